import { make } from './dom.ts'
import type { View } from './editor.ts'

/** The choices of how to look at the piece. */
export interface Looks {
  readonly element: HTMLElement
  show(view: Pick<View, 'stance' | 'byDepth' | 'path'>, copy: string, copies: readonly string[]): void
}

export interface LooksEvents {
  stance(stance: View['stance']): void
  byDepth(on: boolean): void
  path(path: View['path']): void
  copy(copy: string): void
}

const stances: readonly (readonly [View['stance'], string, string])[] = [
  ['machine', 'On the machine', 'As it lies on the machine in this set-up'],
  ['top', 'Top', 'The top face, from straight above'],
  ['underside', 'Underside', 'Turned over, from straight above'],
  ['hand', 'In hand', 'Lifted off the bench, to be turned any way'],
]
const paths: readonly (readonly [View['path'], string])[] = [
  ['all', 'Whole path'],
  ['near', 'Path near the bit'],
  ['none', 'No path'],
]

/** The row of choices. */
export function newLooks(events: LooksEvents): Looks {
  const element = make('div', 'looks', '', { role: 'toolbar', 'aria-label': 'How to look at the piece' })
  const group = make('div', 'stances', '', { role: 'group', 'aria-label': 'The piece' })
  const buttons = stances.map(([stance, name, title]) => {
    const button = make('button', 'stance', name, { type: 'button', title })
    button.addEventListener('click', () => events.stance(stance))
    group.append(button)
    return button
  })
  const surface = chooser('Surface', [
    ['wood', 'Wood'],
    ['depth', 'Depth'],
  ])
  surface.select.addEventListener('change', () => events.byDepth(surface.select.value === 'depth'))
  const path = chooser('Path', paths)
  path.select.addEventListener('change', () => events.path(path.select.value as View['path']))
  const copy = chooser('Copy', [])
  copy.select.addEventListener('change', () => events.copy(copy.select.value))
  element.append(group, surface.label, path.label, copy.label)
  return {
    element,
    show(view, name, copies) {
      stances.forEach(([stance], i) => {
        buttons[i].setAttribute('aria-pressed', String(stance === view.stance))
      })
      surface.select.value = view.byDepth ? 'depth' : 'wood'
      path.select.value = view.path
      copy.label.hidden = copies.length < 2
      if (copies.join('\n') !== [...copy.select.options].map(option => option.value).join('\n')) {
        copy.select.replaceChildren(...copies.map(each => option(each, each || 'the blank')))
      }
      copy.select.value = name
    },
  }
}

function chooser(name: string, choices: readonly (readonly [string, string])[]) {
  const label = make('label', 'choice')
  const select = make('select')
  select.append(...choices.map(([value, text]) => option(value, text)))
  label.append(make('span', '', name), select)
  return { label, select }
}

function option(value: string, text: string): HTMLOptionElement {
  const element = make('option', '', text)
  element.value = value
  return element
}
