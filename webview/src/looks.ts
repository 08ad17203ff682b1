import { make } from './dom.ts'
import type { View } from './editor.ts'
import { type PathLayer, pathNames, type SurfaceLayer, surfaceNames } from './layers.ts'

/** The choices of how to look at the piece. */
export interface Looks {
  readonly element: HTMLElement
  /** What can be chosen of a job. */
  offer(surfaces: readonly SurfaceLayer[], copies: readonly string[]): void
  show(view: Pick<View, 'stance' | 'surface' | 'path' | 'tint'>, copy: string): void
}

export interface LooksEvents {
  stance(stance: View['stance']): void
  surface(surface: SurfaceLayer): void
  path(path: View['path']): void
  tint(tint: PathLayer): void
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
  const element = make('div', 'looks', '', { role: 'group', 'aria-label': 'How to look at the piece' })
  const group = make('div', 'stances', '', { role: 'group', 'aria-label': 'Which way up' })
  const buttons = stances.map(([stance, name, title]) => {
    const button = make('button', 'stance', name, { type: 'button', title })
    button.addEventListener('click', () => events.stance(stance))
    group.append(button)
    return button
  })
  const surface = chooser('Surface', value => events.surface(value as SurfaceLayer))
  const path = chooser('Path', value => events.path(value as View['path']))
  path.fill(paths)
  const tint = chooser('Its colour', value => events.tint(value as PathLayer))
  tint.fill(Object.entries(pathNames))
  const copy = chooser('Copy', events.copy)
  element.append(group, surface.label, path.label, tint.label, copy.label)
  return {
    element,
    offer(surfaces, copies) {
      surface.fill(surfaces.map(each => [each, surfaceNames[each]]))
      copy.fill(copies.map(each => [each, each || 'the blank']))
      copy.label.hidden = copies.length < 2
    },
    show(view, name) {
      stances.forEach(([stance], i) => {
        buttons[i].setAttribute('aria-pressed', String(stance === view.stance))
      })
      surface.select.value = view.surface
      path.select.value = view.path
      tint.select.value = view.tint
      tint.label.hidden = view.path === 'none'
      copy.select.value = name
    },
  }
}

function chooser(name: string, chosen: (value: string) => void) {
  const label = make('label', 'choice')
  const select = make('select')
  label.append(make('span', '', name), select)
  select.addEventListener('change', () => chosen(select.value))
  return {
    label,
    select,
    fill(choices: readonly (readonly [string, string])[]) {
      if (choices.map(([value]) => value).join('\n') === [...select.options].map(each => each.value).join('\n')) return
      const before = select.value
      select.replaceChildren(
        ...choices.map(([value, text]) => {
          const option = make('option', '', text)
          option.value = value
          return option
        }),
      )
      select.value = before
    },
  }
}
