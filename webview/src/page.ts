import { make } from './dom.ts'

/** The parts of the page, empty: heading, stage with its canvas, notes at the side, the job's stick below. */
export interface Page {
  readonly page: HTMLElement
  readonly title: HTMLElement
  readonly heading: HTMLElement
  readonly stage: HTMLElement
  readonly canvas: HTMLCanvasElement
  /** What is laid over the picture: pencil lines and pins. */
  readonly over: HTMLElement
  /** The tools over the picture. */
  readonly bench: HTMLElement
  readonly bar: HTMLProgressElement
  readonly foot: HTMLElement
  /** The line over the stick: what is shown, in words. */
  readonly now: HTMLElement
  readonly line: HTMLElement
  /** Says something over the picture; nothing: takes it away. */
  say(text: string): void
  /** Tells screen readers, when they next have time. */
  tell(text: string): void
}

const KEYS =
  'Arrow keys turn the piece, with shift they move it, plus and minus come nearer and go back, home shows all of it.'

/** Builds the parts into an element, whose scripts are left alone. */
export function newPage(body: HTMLElement): Page {
  const page = make('main', 'page empty')
  const title = make('h1', 'title', 'Treen')
  const heading = make('header', 'heading')
  heading.append(title)
  const canvas = make('canvas', 'piece', '', {
    tabindex: '0',
    role: 'application',
    'aria-roledescription': 'view of the piece',
    'aria-label': 'The piece',
    'aria-describedby': 'piece-keys',
  })
  const keys = make('p', 'unseen', KEYS, { id: 'piece-keys' })
  const stage = make('section', 'stage', '', { 'aria-label': 'The piece and its tools' })
  const over = make('div', 'over')
  const bench = make('div', 'tools', '', { role: 'group', 'aria-label': 'Tools' })
  const notice = make('div', 'notice')
  const bar = make('progress', 'carving', '', { max: '1', 'aria-label': 'Carving the blank' })
  bar.hidden = true
  const live = make('p', 'unseen', '', { 'aria-live': 'polite' })
  stage.append(bench, canvas, over, notice, bar, keys)
  const foot = make('footer', 'foot')
  const now = make('p', 'now')
  const line = make('div', 'line')
  line.append(now)
  foot.append(line)
  page.append(heading, stage, foot, live)
  body.replaceChildren(...[...body.children].filter(child => child.tagName === 'SCRIPT'), page)
  return {
    page,
    title,
    heading,
    stage,
    canvas,
    over,
    bench,
    bar,
    foot,
    now,
    line,
    say(text) {
      notice.textContent = text
      notice.hidden = !text
      if (text) live.textContent = text
    },
    tell(text) {
      live.textContent = text
    },
  }
}
