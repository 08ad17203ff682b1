import type { FrameLocator, Locator, Page } from 'playwright-core'

/** What a person does in the editor and sees of it. Every step waits for what it leads to. */
export class Workbench {
  readonly page: Page

  constructor(page: Page) {
    this.page = page
  }

  /** Opens a file by its path in the explorer, folder by folder, and waits for its text. */
  async openFile(...path: readonly string[]): Promise<void> {
    for (const name of path) await this.page.locator('.explorer-folders-view').getByText(name, { exact: true }).click()
    const name = path.at(-1)!
    await this.page.locator('.tab.active').getByText(name, { exact: true }).waitFor()
    await this.editor.locator('.view-line').first().waitFor()
    // Keep the tab: what is opened next must not take its place.
    await this.page.locator('.tab.active').dblclick()
  }

  get editor(): Locator {
    return this.page.locator('.editor-group-container .monaco-editor[data-uri]').first()
  }

  /** A line of the text as it is drawn, found by what it holds. */
  line(text: string): Locator {
    return this.editor.locator('.view-line', { hasText: text }).first()
  }

  /** Squiggles of one gravity. */
  squiggles(severity: 'error' | 'warning' | 'info'): Locator {
    return this.editor.locator(`.squiggly-${severity}`)
  }

  /** Runs a command by its title in the palette. */
  async command(title: string): Promise<void> {
    await this.page.keyboard.press('F1')
    const box = this.page.locator('.quick-input-widget .quick-input-box input')
    await box.waitFor()
    await box.fill(`>${title}`)
    await this.page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first().waitFor()
    await this.page.keyboard.press('Enter')
    await box.waitFor({ state: 'hidden' })
  }

  /** Shows the list of findings. */
  async showProblems(): Promise<void> {
    await this.command('View: Focus Problems')
    await this.problems.first().waitFor()
  }

  get problems(): Locator {
    return this.page.locator('.markers-panel .monaco-list-row')
  }

  /** Puts the caret on a line, 1-based, and at a column, 1-based. */
  async goTo(line: number, column: number): Promise<void> {
    await this.page.keyboard.press('Control+g')
    const box = this.page.locator('.quick-input-widget .quick-input-box input')
    await box.waitFor()
    await box.fill(`:${line}:${column}`)
    await this.page.keyboard.press('Enter')
    await box.waitFor({ state: 'hidden' })
  }

  /** The page inside the preview's panel. */
  get preview(): FrameLocator {
    return this.page.frameLocator('iframe.webview.ready').frameLocator('#active-frame')
  }

  get verdict(): Locator {
    return this.page.locator('[id="treen.treen.treen.verdict"], [id$="treen.verdict"]').first()
  }
}
