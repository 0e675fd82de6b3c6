import { describe, expect, it, vi } from 'vitest'
import { CameraProblem, openCamera, reasonOf } from './camera'

function trackWith(capabilities: object) {
  const track = {
    asked: [] as unknown[], stopped: false, ended: () => {},
    getCapabilities: () => capabilities,
    applyConstraints: (constraints: unknown) => { track.asked.push(constraints); return Promise.resolve() },
    addEventListener: (_: string, ended: () => void) => { track.ended = ended },
    stop: () => { track.stopped = true },
  }
  return track
}

function devicesWith(getUserMedia: (asked: MediaStreamConstraints) => Promise<unknown>): void {
  vi.stubGlobal('navigator', { mediaDevices: { getUserMedia } })
}

describe('opening the camera', () => {
  it('asks for the one that looks away, and for no sound', async () => {
    const track = trackWith({})
    let asked: MediaStreamConstraints | undefined
    devicesWith((constraints) => {
      asked = constraints
      return Promise.resolve({ getTracks: () => [track], getVideoTracks: () => [track] })
    })
    const problems: CameraProblem[] = []
    const camera = await openCamera((problem) => problems.push(problem))
    expect(asked).toMatchObject({ video: { facingMode: { ideal: 'environment' } }, audio: false })
    expect(camera.light).toBe(undefined)
    track.ended()
    expect(problems.map(({ reason }) => reason)).toEqual(['busy'])
    camera.close()
    expect(track.stopped).toBe(true)
  })

  it('offers its light where it has one', async () => {
    const track = trackWith({ torch: true })
    devicesWith(() => Promise.resolve({ getTracks: () => [track], getVideoTracks: () => [track] }))
    const camera = await openCamera(() => {})
    await camera.light?.(true)
    expect(track.asked).toEqual([{ advanced: [{ torch: true }] }])
  })

  it('says that plain http has none', async () => {
    vi.stubGlobal('navigator', {})
    await expect(openCamera(() => {})).rejects.toMatchObject({ reason: 'insecure' })
  })
})

it.each([
  ['NotAllowedError', 'refused'], ['SecurityError', 'refused'], ['NotFoundError', 'none'], ['OverconstrainedError', 'none'],
  ['NotReadableError', 'busy'], ['AbortError', 'busy'], ['TypeError', 'other'],
])('%s means %s', (name, reason) => {
  expect(reasonOf(Object.assign(new Error('no'), { name }))).toBe(reason)
})
