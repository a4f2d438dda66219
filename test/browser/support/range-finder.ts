import type { Page } from 'playwright-core';
import { call } from './planned-service.ts';
import type { RunningApp } from './running-app.ts';

const NAMES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** What the page says is sung, read by eye: `B♭2, 8 cents high`; C4 = 60. */
export function read(said: string): number {
  const [, letter = '', sign, octave, cents = '0', way] =
    /^([A-G])([♯♭]?)(\d)(?:, (\d+) cents? (high|low))?$/.exec(said) ?? [];
  const alter = sign === '♯' ? 1 : sign === '♭' ? -1 : 0;
  const midi = 12 * (Number(octave) + 1) + (NAMES[letter] ?? NaN) + alter;
  return midi + ((way === 'low' ? -1 : 1) * Number(cents)) / 100;
}

export async function addSinger(app: RunningApp, name: string, more: object = {}): Promise<string> {
  const made = await call(app.address, 'POST', '/members', {
    name,
    roles: ['lead voice'],
    ...more,
  });
  return made['id'] as string;
}

export async function stored(app: RunningApp, id: string): Promise<Record<string, unknown>> {
  return call(app.address, 'GET', `/members/${id}`);
}

export async function openFinder(app: RunningApp, page: Page, name: string): Promise<void> {
  await page.goto(`${app.address}/people`);
  await page
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .first()
    .click();
  await page.getByRole('button', { name: 'Find it in two minutes' }).click();
}

export const asked = (page: Page) => page.locator('.find .asked');
export const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

/** Answers as a voice does that has these notes, C4 = 60, by the buttons, until a range is found. */
export async function answerAs(
  page: Page,
  low: number,
  high: number,
  press: (name: string) => Promise<unknown>,
) {
  for (let i = 0; i < 40; i += 1) {
    if (!(await asked(page).count())) return;
    const said = (await asked(page).innerText()).split(': ')[1] ?? '';
    const midi = read(said);
    const isFirst = (await button(page, 'Too low for me').count()) > 0;
    const beside = midi < low ? 'Too low for me' : 'Too high for me';
    const isEasy = midi >= low && midi <= high;
    await press(isEasy ? 'That was easy' : isFirst ? beside : 'That took effort');
  }
}
