// Who works the page: by keyboard only, or by touch only.
import type { Locator, Page } from "playwright-core";
import { Failed, until } from "./harness.ts";
import { gauge } from "./typing.ts";

export interface Hand {
  readonly page: Page;
  press(what: Locator): Promise<void>;
  /** Into a text field; with a tablet the system's own keyboard comes up. */
  write(field: Locator, text: string): Promise<void>;
  choose(select: Locator, value: string): Promise<void>;
  /** A reading's number into the field that waits for it. */
  number(value: string): Promise<void>;
}

const most_tabs = 400;

export class Keyboard implements Hand {
  constructor(readonly page: Page) {}

  /** Tab after Tab until the control has the keyboard. */
  async #reach(what: Locator): Promise<void> {
    await what.waitFor();
    const wanted = await what.elementHandle();
    for (let i = 0; i < most_tabs; ++i) {
      if (await this.page.evaluate((element) => element === document.activeElement, wanted)) return;
      await this.page.keyboard.press("Tab");
    }
    throw new Failed(`Tab does not reach ${what}`);
  }
  async press(what: Locator): Promise<void> {
    await this.#reach(what);
    await this.page.keyboard.press("Enter");
  }
  async write(field: Locator, text: string): Promise<void> {
    await this.#reach(field);
    await this.page.keyboard.press("Control+A");
    await this.page.keyboard.type(text);
  }
  async choose(select: Locator, value: string): Promise<void> {
    await this.#reach(select);
    const steps = await select.evaluate((element: HTMLSelectElement, to) => {
      const at = [...element.options].findIndex((option) => option.value === to);
      return at - element.selectedIndex;
    }, value);
    for (let i = 0; i < Math.abs(steps); ++i) await this.page.keyboard.press(steps > 0 ? "ArrowDown" : "ArrowUp");
    await until(`${value} is chosen`, async () => (await select.inputValue()) === value);
    // On from the list to what it is for.
    if (await this.page.locator(".readings-choose").isVisible()) await this.page.keyboard.press("Enter");
  }
  async number(value: string): Promise<void> {
    await gauge(this.page, value);
  }
}

export class Touch implements Hand {
  constructor(readonly page: Page) {}
  async press(what: Locator): Promise<void> {
    await what.tap();
  }
  async write(field: Locator, text: string): Promise<void> {
    await field.tap();
    await field.fill(text);
  }
  async choose(select: Locator, value: string): Promise<void> {
    await select.tap();
    await select.selectOption(value);
    // The system's own list closes.
    await this.page.keyboard.press("Escape");
  }
  /** On the page's own keypad, digit by digit, where there is one; else with the system's. */
  async number(value: string): Promise<void> {
    const keypad = this.page.locator(".readings-keypad");
    if (await keypad.isVisible()) {
      for (const digit of value) await keypad.getByRole("button", { name: digit, exact: true }).tap();
      await keypad.locator(".readings-keypad-enter").tap();
      return;
    }
    const field = this.page.locator(".number-field input");
    await field.tap();
    await field.fill(value);
    await field.press("Enter");
  }
}

/** Waits for a text somewhere in the view. */
export async function says(page: Page, text: string | RegExp): Promise<void> {
  await until(`the view says ${text}`, async () => {
    const now = await page.locator("body").innerText();
    return typeof text === "string" ? now.includes(text) : text.test(now);
  });
}
