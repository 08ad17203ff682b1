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

export interface WatchEvents {
  /** Moves on by seconds of work; false when there is no more to come. */
  advance(seconds: number, skipAir: boolean): boolean
  /** The job's length, s. */
  total(): number
  /** One line of the program on or back. */
  step(way: 1 | -1): void
}

export function newWatch({ advance, total, step }: WatchEvents): Watch {
  const element = make('div', 'watch')
  const back = make('button', 'step', '\u2039', { type: 'button', 'aria-label': 'One line back' })
  const on = make('button', 'step', '\u203a', { type: 'button', 'aria-label': 'One line on' })
  back.addEventListener('click', () => step(-1))
  on.addEventListener('click', () => step(1))
  const button = make('button', 'run', 'Watch it cut', { type: 'button', 'aria-pressed': 'false' })
  const speed = make('select', 'speed', '', { 'aria-label': 'How fast to watch' })
  const air = make('label', 'air')
  const skip = make('input', '', '', { type: 'checkbox' })
  air.append(skip, make('span', '', 'skip the air'))
  speeds.forEach(({ name }, i) => {
    const option = make('option', '', name)
    option.value = String(i)
    speed.append(option)
  })
  speed.value = '3'
  element.append(back, on, button, speed, air)
  let running = false
  let last = 0
  const set = (runs: boolean) => {
    if (running === runs) return
    running = runs
    button.textContent = runs ? 'Pause' : 'Watch it cut'
    button.setAttribute('aria-pressed', String(runs))
    if (runs) {
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
    if (advance(seconds * (rate ?? total() / (whole ?? 60)), skip.checked)) requestAnimationFrame(tick)
    else set(false)
  }
  button.addEventListener('click', () => set(!running))
  return { element, running: () => running, stop: () => set(false), toggle: () => set(!running) }
}
