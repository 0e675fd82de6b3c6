// A thumb that keeps the books: what a way through the app takes in taps, typed fields and screens.

import type { Locator, Page } from 'playwright-core'

export class Thumb {
  taps = 0
  fields = 0
  readonly screens: string[] = []

  constructor(private readonly page: Page) {}

  async tap(what: Locator): Promise<void> {
    await what.tap()
    this.taps++
  }

  /** A field is tapped before it is typed in. */
  async type(name: string, text: string): Promise<void> {
    const field = this.page.getByRole('textbox', { name })
    await this.tap(field)
    await field.pressSequentially(text)
    this.fields++
  }

  /** A choice of many: opened by one tap and made by another. */
  async choose(name: string, option: string): Promise<void> {
    await this.page.getByRole('combobox', { name }).selectOption(option)
    this.taps += 2
  }

  async arrive(heading: string): Promise<void> {
    await this.page.getByRole('heading', { name: heading, exact: true }).waitFor()
    this.screens.push(heading)
  }

  toString(): string {
    return `${this.taps} taps, ${this.fields} fields typed, ${this.screens.length} screens (${this.screens.join(', ')})`
  }
}
