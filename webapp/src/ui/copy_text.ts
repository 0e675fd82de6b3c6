// Putting a text where other apps can paste it.

/** Whether it came onto the clipboard: without leave, or on a page without https, it does not, and is to be marked by hand. */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text)
    return true
  } catch {
    return false
  }
}

/** Whether this device can hand a text to another app. */
export function mayShare(): boolean {
  return typeof navigator.share === 'function'
}

export async function shareText(text: string): Promise<void> {
  await navigator.share({ text }).catch(() => undefined) // put away again, which is no failure
}
