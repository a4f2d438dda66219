import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { saved, SOON } from './support/editor.ts';
import { axeFindings, openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** What the page of a test has beside what a browser gives it. */
interface Fake {
  /** A message from the keyboard; `at`: ms on the clock of the page, missing: now. */
  send(data: readonly number[], at?: number): void;
  /** When each click is heard, ms on the clock of the page. */
  readonly clicks: number[];
}

/**
 * A browser with one MIDI keyboard, as the W3C's Web MIDI API has it (5: a map of inputs that tell `midimessage`), and
 * with an ear for the click: every tone that is begun is noted on the clock of the page.
 */
function fakeMidi(): void {
  const input = Object.assign(new EventTarget(), { name: 'A stage piano', id: '1' });
  const access = Object.assign(new EventTarget(), { inputs: new Map([['1', input]]) });
  const clicks: number[] = [];
  const fake: Fake = {
    clicks,
    send: (data, at) => {
      const event = Object.assign(new Event('midimessage'), { data: new Uint8Array(data) });
      if (at !== undefined) Object.defineProperty(event, 'timeStamp', { value: at });
      input.dispatchEvent(event);
    },
  };
  Object.assign(globalThis, { fake });
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: () => Promise.resolve(access) });
  const begin = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (when = 0) {
    const { currentTime, outputLatency = 0 } = this.context as AudioContext;
    clicks.push(performance.now() + (when - currentTime + outputLatency) * 1000);
    begin.call(this, when);
  };
}

/** An empty page with a MIDI keyboard that is heard. */
async function atTheKeyboard(title: string): Promise<WatchedPage> {
  const watched = await openPage(browser, { viewport: TABLET });
  const { page } = watched;
  await page.addInitScript(fakeMidi);
  await page.goto(`${app.address}/songs/write`);
  await page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
  await page.getByLabel('Title').fill(title);
  await page.getByRole('button', { name: 'MIDI keyboard' }).click();
  await page.getByText('A stage piano').waitFor();
  await page.locator('#written-music').focus();
  return watched;
}

/** The tune as it is on the server: pitches with their lengths in quarters, rests with r. */
async function tuneOf(title: string): Promise<string[]> {
  const list = (await (await fetch(`${app.address}/api/songs`)).json()) as { songs: Song[] };
  for (const { id } of list.songs) {
    const { score } = (await (await fetch(`${app.address}/api/songs/${id}`)).json()) as Song;
    const voice = score.voices.find((each) => each.id === score.melody);
    if (score.facts.title !== title || !voice) continue;
    return voice.notes.map(
      ({ pitches, length }) => `${pitches.join('+') || 'r'} ${length / 20160}`,
    );
  }
  return [];
}

const [ON, OFF] = [0x90, 0x80];

describe('Writing at a MIDI keyboard', () => {
  it('writes a note for each key in the chosen length, and a chord for keys together', async () => {
    const { page, context, complaints } = await atTheKeyboard('In Step');
    const key = async (...midis: number[]): Promise<void> => {
      await page.evaluate(
        ([on, off, all]) => {
          const { send } = (globalThis as unknown as { fake: Fake }).fake;
          for (const midi of all as number[]) send([on as number, midi, 80]);
          for (const midi of all as number[]) send([off as number, midi, 0]);
        },
        [ON, OFF, midis] as const,
      );
    };
    await key(67);
    await key(69);
    // The second of the five lengths, from the whole note down: a half.
    await page.keyboard.press('2');
    await key(60, 64, 67);
    await saved(page);
    await expect
      .poll(async () => (await tuneOf('In Step')).slice(0, 3), SOON)
      .toEqual(['G4 1', 'A4 1', 'C4+E4+G4 2']);
    // A message that is no key writes nothing: the pedal, the clock.
    await page.evaluate(() => {
      const { send } = (globalThis as unknown as { fake: Fake }).fake;
      send([0xb0, 64, 127]);
      send([0xf8]);
    });
    await page.getByRole('button', { name: 'MIDI keyboard' }).click();
    await key(72);
    await page.locator('#written-music').focus();
    await page.keyboard.press('Control+z');
    await page.getByText(/^Taken back: .*C4.*E4.*G4/).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('Playing along the click', () => {
  /** Four quarters at 60 after the bar that is counted, so many ms beside their clicks; the keys held for `held` ms. */
  async function playAlong(page: Page, late: readonly number[], held: number): Promise<void> {
    const clicks = page.getByLabel('Clicks a minute');
    await clicks.fill('60');
    await page.getByRole('button', { name: 'play along' }).click();
    await page.getByText(/counting in: \d/).waitFor();
    await page.getByText(/playing, beat/).waitFor(SOON);
    await page.waitForFunction(() => (globalThis as unknown as { fake: Fake }).fake.clicks.length >= 8, undefined, SOON); // prettier-ignore
    await page.evaluate(
      ([lateness, length]) => {
        const { send, clicks: heard } = (globalThis as unknown as { fake: Fake }).fake;
        // The clock of the audio device is read in steps, and is late to start: the middle of what all clicks say counts.
        const firsts = heard.slice(2).map((click, i) => click - (i + 2) * 1000);
        const first = firsts.sort((a, b) => a - b)[firsts.length >> 1] ?? 0;
        (lateness as number[]).forEach((ms, i) => {
          const at = first + (4 + i) * 1000 + ms;
          const midi = [67, 69, 71, 72][i] ?? 60;
          send([0x90, midi, 80], at);
          send([0x80, midi, 0], at + (length as number));
        });
      },
      [late, held] as const,
    );
    await page.getByRole('button', { name: 'Stop' }).click();
  }

  it('puts what was played on the beat, says how far each note moved, and writes it on yes', async () => {
    const { page, context, complaints } = await atTheKeyboard('Played');
    await playAlong(page, [30, -20, 45, 0], 960);
    const proposal = page.getByRole('region', { name: 'What was played' });
    const lines = proposal.getByRole('listitem');
    await lines.first().waitFor();
    const said = await lines.allInnerTexts();
    expect(said.map((line) => line.replace(/:.*/s, ''))).toEqual([
      'G4 in bar 1, beat 1, quarter',
      'A4 in bar 1, beat 2, quarter',
      'B4 in bar 1, beat 3, quarter',
      'C5 in bar 1, beat 4, quarter',
    ]);
    // Both clocks run by themselves: what is said may be off for all notes alike, and is right from note to note.
    const moved = said.map((line) => {
      const [, ms = '0', way = 'later'] = /moved (\d+) ms (earlier|later)/.exec(line) ?? [];
      return way === 'later' ? Number(ms) : -Number(ms);
    });
    const late = moved.map((ms) => (moved[3] ?? 0) - ms);
    [30, -20, 45, 0].forEach((ms, i) => expect(Math.abs((late[i] ?? NaN) - ms), said.join()).toBeLessThan(12)); // prettier-ignore
    expect(Math.max(...moved.map(Math.abs))).toBeLessThan(100);
    expect(await axeFindings(page)).toEqual([]);
    // Nothing is written before somebody says yes.
    expect(await tuneOf('Played').then((tune) => tune.filter((each) => !each.startsWith('r')))).toEqual([]); // prettier-ignore
    await proposal.getByRole('button', { name: 'Write it so' }).click();
    await saved(page);
    await expect.poll(async () => (await tuneOf('Played')).slice(0, 4), SOON).toEqual(['G4 1', 'A4 1', 'B4 1', 'C5 1']); // prettier-ignore
    // Corrected like any other note, and kept.
    await page.locator('#written-music').focus();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowUp');
    await saved(page);
    await expect.poll(async () => (await tuneOf('Played')).slice(0, 4), SOON).toEqual(['G4 1', 'A4 1', 'B4 1', 'D5 1']); // prettier-ignore
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await page.getByText(/^Taken back: what was played, 4 notes/).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is read again in a finer or coarser division before it is written, and can be left', async () => {
    const { page, context, complaints } = await atTheKeyboard('Divided');
    // The second note stands a quarter of a beat before its click.
    await playAlong(page, [0, -250, 0, 0], 600);
    const proposal = page.getByRole('region', { name: 'What was played' });
    const second = proposal.getByRole('listitem').nth(1);
    await second.getByText(/A4 in bar 1, beat 1¾/).waitFor();
    await proposal.getByLabel('divided in').selectOption('halves');
    await second.getByText(/A4 in bar 1, beat (1½|2)/).waitFor();
    await proposal.getByRole('button', { name: 'Leave it' }).click();
    await proposal.waitFor({ state: 'detached' });
    expect((await tuneOf('Divided')).filter((each) => !each.startsWith('r'))).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('does not begin at a click that nobody counts, and says so', async () => {
    const { page, context, complaints } = await atTheKeyboard('No Click');
    await page.getByLabel('Clicks a minute').fill('');
    await page.getByRole('button', { name: 'play along' }).click();
    await page.getByText('The click is between 30 and 240 a minute.').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});
