// Keeps the screen awake while what is shown must stay in sight, where the browser can.

import { useEffect } from 'preact/hooks'

export function useWakeLock(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | undefined
    let over = false
    const take = async () => {
      if (over || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return
      try {
        lock = await navigator.wakeLock.request('screen')
        if (over) await lock.release()
      } catch {
        // Low battery or an insecure origin: the screen then sleeps as the phone is set to.
      }
    }
    void take()
    document.addEventListener('visibilitychange', take)
    return () => {
      over = true
      document.removeEventListener('visibilitychange', take)
      void lock?.release()
    }
  }, [])
}
