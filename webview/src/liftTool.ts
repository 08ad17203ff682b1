import { make } from './dom.ts'

/** Lifts what was set in out of its pocket. */
export interface LiftTool {
  readonly button: HTMLButtonElement
  readonly panel: HTMLElement
  /** mm; undefined while it sits where it belongs. */
  by(): number | undefined
  /** Whether there is anything to be lifted, and how far at most, mm. */
  offer(there: boolean, most: number): void
}

export function newLiftTool(moved: (began: boolean) => void): LiftTool {
  const button = make('button', 'tool', 'Lift the inlay', {
    type: 'button',
    'aria-pressed': 'false',
    'aria-expanded': 'false',
  })
  const panel = make('div', 'panel', '', { role: 'group', 'aria-label': 'Lift the inlay' })
  panel.hidden = true
  const range = make('input', 'where', '', {
    type: 'range',
    min: '0',
    max: '60',
    step: '1',
    'aria-label': 'How far it is lifted, mm',
  })
  panel.append(range)
  let open = false
  const set = (on: boolean) => {
    if (on === open) return
    open = on
    range.value = on ? String(Number(range.max) * 0.6) : '0'
    button.setAttribute('aria-pressed', String(on))
    button.setAttribute('aria-expanded', String(on))
    panel.hidden = !on
    moved(on)
  }
  button.addEventListener('click', () => set(!open))
  range.addEventListener('input', () => moved(false))
  return {
    button,
    panel,
    by: () => (open ? Number(range.value) : undefined),
    offer(there, most) {
      button.hidden = !there
      range.max = String(Math.round(most))
      if (!there) set(false)
    },
  }
}
