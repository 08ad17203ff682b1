import type { FrameLocator, Locator, Page } from 'playwright-core'

/** What a person does in the editor and sees of it. Every step waits for what it leads to. */
export class Workbench {
  readonly page: Page

  constructor(page: Page) {
    this.page = page
  }

  /** Opens a file by its path in the explorer, folder by folder, and waits for its text. */
  async openFile(...path: readonly string[]): Promise<void> {
    const rows = this.page.locator('.explorer-folders-view')
    for (const name of path) await rows.getByText(name, { exact: true }).click()
    const tab = this.page.locator('.tab.active')
    await tab.getByText(path.at(-1)!, { exact: true }).waitFor()
    await this.editor.locator('.view-line').first().waitFor()
    // Keep the tab: what is opened next must not take its place.
    await tab.dblclick()
  }

  /** The same by keys alone: by its name, from the list of all files. */
  async openFileByKeys(path: string): Promise<void> {
    const name = path.split('/').at(-1)!
    const box = this.page.locator('.quick-input-widget .quick-input-box input')
    await this.page.keyboard.press('Control+p')
    await box.waitFor()
    await box.fill(path)
    const row = this.page.locator('.quick-input-list .monaco-list-row.focused', {
      hasText: path.slice(0, -name.length - 1),
    })
    await row.filter({ hasText: name }).waitFor()
    await this.page.keyboard.press('Enter')
    await this.page.locator('.tab.active').getByText(name, { exact: true }).waitFor()
  }

  /** Puts the caret somewhere in the text in front, 1-based, and selects what follows, by keys alone. */
  async selectByKeys(line: number, from: number, to: number): Promise<void> {
    await this.command('Focus Active Editor Group')
    await this.#selectFromCaret(line, from, to)
  }

  get editor(): Locator {
    return this.page.locator('.editor-group-container .monaco-editor[data-uri]').first()
  }

  squiggles(severity: 'error' | 'warning' | 'info'): Locator {
    return this.editor.locator(`.squiggly-${severity}`)
  }

  /**
   * Whether a squiggle stands exactly under some columns of the line that reads `text`. By pixels: the editor draws text
   * and squiggles apart, in characters of one width.
   */
  async hasSquiggle(severity: 'error' | 'warning', text: string, from: number, to: number): Promise<boolean> {
    const line = this.editor.locator('.view-line > span').filter({ hasText: text }).first()
    const place = await line.boundingBox()
    if (!place) return false
    const width = place.width / text.length
    for (const squiggle of await this.squiggles(severity).all()) {
      const box = await squiggle.boundingBox()
      if (!box || Math.abs(box.y - place.y) > box.height) continue
      if (Math.abs(box.x - place.x - from * width) < 2 && Math.abs(box.width - (to - from) * width) < 2) return true
    }
    return false
  }

  /** Shows the list of findings. */
  async showProblems(): Promise<void> {
    await this.page.keyboard.press('Control+Shift+M')
    await this.page.locator('.markers-panel').waitFor()
  }

  /** The findings in that list that hold a code. */
  problems(code: string): Locator {
    return this.page.locator('.markers-panel .monaco-list-row', { hasText: code })
  }

  /** Selects columns of a line of the text in front, 1-based. */
  async select(line: number, from: number, to: number): Promise<void> {
    await this.editor.locator('.view-line').first().click()
    await this.#selectFromCaret(line, from, to)
  }

  async #selectFromCaret(line: number, from: number, to: number): Promise<void> {
    await this.page.keyboard.press('Control+g')
    const box = this.page.locator('.quick-input-widget .quick-input-box input')
    await box.waitFor()
    await box.fill(`:${line}:${from}`)
    await this.page.keyboard.press('Enter')
    await box.waitFor({ state: 'hidden' })
    for (let column = from; column < to; column++) await this.page.keyboard.press('Shift+ArrowRight')
  }

  /** Runs a command by its name in the palette, with the keyboard alone. */
  async command(name: string): Promise<void> {
    const row = await this.#palette(name, name)
    await this.#goDownTo(row, '.quick-input-list')
    await this.page.keyboard.press('Enter')
    await row.waitFor({ state: 'hidden' })
  }

  /** The commands of ours that the palette offers now; `always` is one that it does, by which the list is known. */
  async offered(always: string): Promise<string[]> {
    const row = await this.#palette('Treen: ', always)
    const found = await this.page.locator('.quick-input-list .monaco-list-row').allTextContents()
    await this.page.keyboard.press('Escape')
    await row.waitFor({ state: 'hidden' })
    return found
  }

  /**
   * Opens the palette with some words in it, and waits for a row. Opened anew where that does not come: a key that falls
   * into the closing of the last list is lost, and what extensions bring later is not added to a list that is open.
   */
  async #palette(words: string, wanted: string): Promise<Locator> {
    const box = this.page.locator('.quick-input-widget .quick-input-box input')
    const row = this.page.locator('.quick-input-list .monaco-list-row', { hasText: wanted }).first()
    for (let tries = 0; tries < 20; tries++) {
      await this.page.keyboard.press('F1')
      try {
        await box.waitFor({ timeout: 5000 })
        await box.fill(`>${words}`, { timeout: 5000 })
        await row.waitFor({ timeout: 5000 })
        return row
      } catch {
        await this.page.keyboard.press('Escape')
      }
    }
    throw new Error(`The palette does not offer ${wanted}`)
  }

  /** Picks what is in front of the list of choices that is open. */
  async choose(label: string): Promise<void> {
    const focused = this.page.locator('.quick-input-list .monaco-list-row.focused')
    await focused.waitFor()
    await this.page.keyboard.type(label)
    const row = focused.filter({ hasText: label })
    await row.waitFor()
    await this.page.keyboard.press('Enter')
    await row.waitFor({ state: 'hidden' })
  }

  /** The tab of a text, by the name of its file. */
  tab(name: string): Locator {
    return this.page.locator('.tab').getByText(name, { exact: true })
  }

  /** Presses the button above the text. */
  async openPreview(): Promise<void> {
    await this.page.locator('.editor-group-container .title').getByLabel('Open Preview Beside').first().click()
    await this.webview.locator('canvas.piece').waitFor()
  }

  /** Closes all that is open, texts and pages. */
  async closeAll(): Promise<void> {
    await this.command('View: Close All Editor Groups')
    await this.page.locator('.tab').first().waitFor({ state: 'detached' })
  }

  /** Picks an action from the list of them that is open. */
  async pickAction(title: string): Promise<void> {
    const wanted = this.page.locator('.action-widget .monaco-list-row', { hasText: title }).first()
    await wanted.waitFor()
    await this.#goDownTo(wanted, '.action-widget')
    await this.page.keyboard.press('Enter')
    await wanted.waitFor({ state: 'detached' })
  }

  /** From the row that has the focus down to another: what was used lately stands above what fits best. */
  async #goDownTo(row: Locator, list: string): Promise<void> {
    const focused = this.page.locator(`${list} .monaco-list-row.focused`)
    await focused.waitFor()
    const index = async (of: Locator) => Number(await of.getAttribute('data-index'))
    for (let n = (await index(row)) - (await index(focused)); n > 0; n--) await this.page.keyboard.press('ArrowDown')
    await row.and(focused).waitFor()
  }

  /** Closes the tab in front, and waits until the text has the place again. */
  async closeTab(): Promise<void> {
    const tab = this.page.locator('.editor-group-container.active .tab.active')
    const name = await tab.getAttribute('data-resource-name')
    await tab.click({ button: 'middle' })
    await this.page.locator(`.tab[data-resource-name="${name}"]`).waitFor({ state: 'detached' })
  }

  /** How long our activation took, ms, as the editor lists it: the slowest extension first, so ours is far down. */
  async activationTime(): Promise<number> {
    await this.command('Show Running Extensions')
    const list = this.page.locator('.runtime-extensions-editor')
    await list.locator('.monaco-list-row').first().waitFor()
    const ours = list.locator('.monaco-list-row', { hasText: 'Treen' })
    for (let n = 0; n < 60 && !(await ours.isVisible()); n++) await this.page.keyboard.press('ArrowDown')
    const found = /Activation: (\d+)ms/.exec((await ours.textContent()) ?? '')
    if (!found) throw new Error('The editor does not tell the activation time')
    await this.page.keyboard.press('Escape')
    await list.waitFor({ state: 'hidden' })
    return Number(found[1])
  }

  /** The item in the status bar that tells how the job stands. */
  get verdict(): Locator {
    return this.page.locator('.statusbar-item[id$="treen.verdict"]')
  }

  /** The page inside the webview that is shown last. */
  get webview(): FrameLocator {
    const seen = this.page.locator('iframe.webview.ready').filter({ visible: true }).last()
    return seen.contentFrame().frameLocator('#active-frame')
  }
}
