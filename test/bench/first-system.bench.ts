import { launchChromium } from '../support/chromium.ts';
import { hymn, TABLET } from '../browser/support/pages.ts';
import { startApp } from '../browser/support/running-app.ts';

/** What a first visit may weigh until the first system can be read, fonts included, in bytes on the wire. */
const LIMIT = 200 * 1024;

/** The bytes of a first visit to a sheet until its first system stands there in its own type. */
export async function bench(): Promise<
  { name: string; ratio: number; limit: number | null; detail: string }[]
> {
  const [app, browser] = await Promise.all([startApp(), launchChromium()]);
  try {
    const response = await fetch(`${app.address}/api/songs`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({
        format: 'abc',
        bytes: hymn('Amazing_Grace-New_Britain').toString('base64'),
      }),
    });
    const { id } = (await response.json()) as { id: string };
    const page = await browser.newPage({ viewport: TABLET });
    const session = await page.context().newCDPSession(page);
    await session.send('Network.enable');
    const kinds = new Map<string, string>();
    const bytes = new Map<string, number>();
    session.on('Network.responseReceived', ({ requestId, response: { url } }) => {
      const path = new URL(url).pathname;
      const kind = /\.(\w+)$/.exec(path)?.[1] ?? 'html';
      kinds.set(requestId, path.startsWith('/api/') ? 'api' : kind);
    });
    session.on('Network.loadingFinished', ({ requestId, encodedDataLength }) => {
      const kind = kinds.get(requestId) ?? 'other';
      bytes.set(kind, (bytes.get(kind) ?? 0) + encodedDataLength);
    });
    await page.goto(`${app.address}/songs/${id}/sheet`);
    await page.locator('.system').first().waitFor();
    await page.evaluate(() => document.fonts.ready);
    const total = [...bytes.values()].reduce((sum, each) => sum + each, 0);
    const parts = [...bytes].map(([kind, each]) => `${kind} ${(each / 1024).toFixed(1)}`);
    return [
      {
        name: 'first readable system of a sheet, bytes against 200 KB',
        ratio: total / LIMIT,
        limit: 1,
        detail: `${(total / 1024).toFixed(1)} KB on the wire: ${parts.join(', ')}`,
      },
    ];
  } finally {
    await browser.close();
    await app.stop();
  }
}
