/** How the piece is looked at: angles in radians, zoom 1 where the whole piece just fits. */
export interface Orbit {
  azimuth: number
  polar: number
  zoom: number
  /** Shift of the picture, as shares of its height. */
  panX: number
  panY: number
}

export interface OrbitEvents {
  /** `done`: the hand has let go. */
  changed(done: boolean): void
  /** A press that was not a drag. */
  picked(x: number, y: number): void
  pointed(x: number, y: number): void
}

const NEAREST = 0.12
const FARTHEST = 3
const TURN = 0.008
const KEY_TURN = Math.PI / 24

/** Keeps an orbit within what can be seen: over the bench unless the piece is in the hand. */
export function settle(orbit: Orbit, free: boolean): void {
  orbit.polar = Math.min(free ? Math.PI : Math.PI * 0.47, Math.max(0, orbit.polar))
  orbit.zoom = Math.min(FARTHEST, Math.max(NEAREST, orbit.zoom))
  orbit.panX = Math.min(1, Math.max(-1, orbit.panX))
  orbit.panY = Math.min(1, Math.max(-1, orbit.panY))
  orbit.azimuth = ((((orbit.azimuth + Math.PI) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)) - Math.PI
}

/** Turning by mouse, pen, touch (one finger turns, two move and zoom), wheel and keys on an element. */
export function steer(element: HTMLElement, orbit: Orbit, free: () => boolean, events: OrbitEvents): void {
  const fingers = new Map<number, { x: number; y: number }>()
  let moved = 0
  const height = () => Math.max(1, element.clientHeight)
  const changed = (done: boolean) => {
    settle(orbit, free())
    events.changed(done)
  }
  const turn = (dx: number, dy: number) => {
    orbit.azimuth -= dx * TURN
    orbit.polar -= dy * TURN
  }
  const pan = (dx: number, dy: number) => {
    orbit.panX += (dx / height()) * orbit.zoom
    orbit.panY -= (dy / height()) * orbit.zoom
  }
  element.addEventListener('pointerdown', event => {
    element.setPointerCapture(event.pointerId)
    fingers.set(event.pointerId, { x: event.offsetX, y: event.offsetY })
    moved = fingers.size > 1 ? Infinity : 0
  })
  element.addEventListener('pointermove', event => {
    const finger = fingers.get(event.pointerId)
    if (!finger) {
      if (event.pointerType === 'mouse') events.pointed(event.offsetX, event.offsetY)
      return
    }
    const dx = event.offsetX - finger.x
    const dy = event.offsetY - finger.y
    moved += Math.abs(dx) + Math.abs(dy)
    if (moved < 4) return
    if (fingers.size === 1) {
      if (event.shiftKey || event.buttons & 6) pan(dx, dy)
      else turn(dx, dy)
    } else if (fingers.size === 2) {
      const other = [...fingers].find(([id]) => id !== event.pointerId)![1]
      const before = Math.hypot(finger.x - other.x, finger.y - other.y)
      const after = Math.hypot(event.offsetX - other.x, event.offsetY - other.y)
      if (after > 1) orbit.zoom *= before / after
      pan(dx / 2, dy / 2)
    }
    finger.x = event.offsetX
    finger.y = event.offsetY
    changed(false)
  })
  const end = (event: PointerEvent) => {
    if (!fingers.delete(event.pointerId)) return
    if (event.type === 'pointerup' && moved < 4 && event.button === 0) events.picked(event.offsetX, event.offsetY)
    else changed(true)
  }
  element.addEventListener('pointerup', end)
  element.addEventListener('pointercancel', end)
  element.addEventListener('contextmenu', event => event.preventDefault())
  let quiet: ReturnType<typeof setTimeout> | undefined
  element.addEventListener(
    'wheel',
    event => {
      event.preventDefault()
      orbit.zoom *= Math.exp(Math.min(60, Math.max(-60, event.deltaY * (event.deltaMode ? 16 : 1))) * 0.0022)
      changed(false)
      clearTimeout(quiet)
      quiet = setTimeout(() => changed(true), 160)
    },
    { passive: false },
  )
  const keys: Record<string, (shift: boolean) => void> = {
    ArrowLeft: shift => (shift ? pan(24, 0) : (orbit.azimuth += KEY_TURN)),
    ArrowRight: shift => (shift ? pan(-24, 0) : (orbit.azimuth -= KEY_TURN)),
    ArrowUp: shift => (shift ? pan(0, 24) : (orbit.polar -= KEY_TURN)),
    ArrowDown: shift => (shift ? pan(0, -24) : (orbit.polar += KEY_TURN)),
    '+': () => (orbit.zoom /= 1.15),
    '=': () => (orbit.zoom /= 1.15),
    '-': () => (orbit.zoom *= 1.15),
    Home: () => Object.assign(orbit, { zoom: 1, panX: 0, panY: 0 }),
  }
  element.addEventListener('keydown', event => {
    const act = keys[event.key]
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    act(event.shiftKey)
    changed(true)
  })
}
