import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';

export const TABLET = { width: 1180, height: 820 } as const;
export const PHONE = { width: 390, height: 844 } as const;
export const LAPTOP = { width: 1440, height: 900 } as const;

/** A page that remembers whatever it complained about. */
export interface WatchedPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Console errors and warnings, uncaught errors, failed requests. */
  readonly complaints: string[];
}

/** @param expected complaints that belong to the test, such as the refusal it provokes */
export async function openPage(
  browser: Browser,
  options: BrowserContextOptions,
  expected: readonly RegExp[] = [],
): Promise<WatchedPage> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const complaints: string[] = [];
  const complain = (words: string): void => {
    if (!expected.some((each) => each.test(words))) complaints.push(words);
  };
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complain(message.text());
  });
  page.on('pageerror', (error) => complain(String(error)));
  return { page, context, complaints };
}

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe finds against WCAG 2.2 A and AA, a line each; empty: nothing. */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const run = (
      globalThis as unknown as {
        axe: {
          run: (
            context: Document,
            options: object,
          ) => Promise<{
            violations: { id: string; help: string; nodes: { target: unknown[] }[] }[];
          }>;
        };
      }
    ).axe;
    const { violations } = await run.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    });
    return violations.map(
      ({ id, help, nodes }) =>
        `${id}: ${help} (${nodes
          .slice(0, 3)
          .map((node) => node.target.join(' '))
          .join('; ')})`,
    );
  });
}

/** The bytes of a hymn as published. */
export function hymn(name: string): Buffer {
  return readFileSync(`seed-data/hymns/${name}.abc`);
}

/** Lets go of a file over the page, as from a folder beside the browser. */
export async function drop(page: Page, name: string, bytes: Buffer): Promise<void> {
  const data = await page.evaluateHandle(
    ([fileName, base64]) => {
      const content = Uint8Array.from(atob(base64 ?? ''), (sign) => sign.charCodeAt(0));
      const transfer = new DataTransfer();
      transfer.items.add(new File([content], fileName ?? '', { type: 'text/vnd.abc' }));
      return transfer;
    },
    [name, bytes.toString('base64')],
  );
  await page.dispatchEvent('body', 'dragenter', { dataTransfer: data });
  await page.dispatchEvent('body', 'drop', { dataTransfer: data });
}
