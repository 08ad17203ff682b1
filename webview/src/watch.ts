import { make } from './dom.ts'

/** Lets the job run by itself: one button and how fast. */
export interface Watch {
  readonly element: HTMLElement
  running(): boolean
  stop(): void
  toggle(): void
}

/** How the whole job is gone through: seconds of work a second, or the whole in so many seconds. */
const speeds: readonly { readonly name: string; readonly rate?: number; readonly whole?: number }[] = [
  { name: 'as fast as it cuts', rate: 1 },
  { name: '10 times as fast', rate: 10 },
  { name: '60 times as fast', rate: 60 },
  { name: 'the job in a minute', whole: 60 },
]

/** `advance` moves on by seconds of work and says whether there is more to come; `total` is the job's length, s. */
export function newWatch(advance: (seconds: number) => boolean, total: () => number, changed: () => void): Watch {
  const element = make('div', 'watch')
  const button = make('button', 'run', 'Watch it cut', { type: 'button', 'aria-pressed': 'false' })
  const speed = make('select', 'speed', '', { 'aria-label': 'How fast to watch' })
  speeds.forEach(({ name }, i) => {
    const option = make('option', '', name)
    option.value = String(i)
    speed.append(option)
  })
  speed.value = '3'
  element.append(button, speed)
  let running = false
  let last = 0
  const set = (on: boolean) => {
    if (running === on) return
    running = on
    button.textContent = on ? 'Pause' : 'Watch it cut'
    button.setAttribute('aria-pressed', String(on))
    changed()
    if (on) {
      last = performance.now()
      requestAnimationFrame(tick)
    }
  }
  const tick = (time: number) => {
    if (!running) return
    const { rate, whole } = speeds[Number(speed.value)]
    // A hidden tab must not leap ahead when it comes back.
    const seconds = Math.min(0.25, Math.max(0, (time - last) / 1000))
    last = time
    if (advance(seconds * (rate ?? total() / (whole ?? 60)))) requestAnimationFrame(tick)
    else set(false)
  }
  button.addEventListener('click', () => set(!running))
  return { element, running: () => running, stop: () => set(false), toggle: () => set(!running) }
}
