import { Editing } from '#music';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { QUARTER_NOTE } from './edit-length.ts';
import { Take, type WrittenInto } from './edit-take.svelte.ts';
import { blankSong } from './edit-words.ts';

/** An audio device whose clock is the page's, in seconds. */
const sounded: number[] = [];
const device = {
  now: () => performance.now() / 1000,
  sound: (seconds: number) => sounded.push(seconds),
  heardAt: (seconds: number) => seconds * 1000,
};

class Page implements WrittenInto {
  score = blankSong();
  hand = { voice: 'melody', at: 0, length: QUARTER_NOTE };
  said = '';

  edit: WrittenInto['edit'] = (edits, { hand }) => {
    for (const edit of edits) {
      const done = Editing.apply(this.score, edit);
      if (!done.ok) return false;
      this.score = done.value;
    }
    this.hand = { ...this.hand, at: hand.at };
    return true;
  };

  refuse = (words: string): void => {
    this.said = words;
  };
}

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'performance'] });
  sounded.length = 0;
});

afterEach(() => vi.useRealTimers());

/** 120 beats a minute: a bar of count-in lasts 2 s. Plays two notes, `late` ms after their beats. */
function played(late: number): { take: Take; page: Page } {
  const page = new Page();
  const take = new Take(page, () => device);
  take.perMinute = 120;
  const start = performance.now();
  take.start();
  const bar = start + 150 + 2000;
  vi.advanceTimersByTime(2200);
  take.hear({ midi: 67, down: true, at: bar + late });
  take.hear({ midi: 67, down: false, at: bar + 480 + late });
  take.hear({ midi: 69, down: true, at: bar + 500 + late });
  vi.advanceTimersByTime(1000);
  take.stop(bar + 1000 + late);
  return { take, page };
}

describe('Playing along a click', () => {
  it('counts a bar in, and clicks on every beat', () => {
    const { take } = played(0);
    take.drop();
    const gaps = sounded.slice(1).map((at, i) => Math.round((at - (sounded[i] ?? 0)) * 1000));
    expect(gaps.length).toBeGreaterThan(4);
    expect(new Set(gaps)).toEqual(new Set([500]));
  });

  it('proposes what was heard, with how far it was moved, and writes nothing yet', () => {
    const { take, page } = played(20);
    expect(take.state).toBe('proposed');
    expect(take.proposal?.notes.map(({ pitches }) => pitches[0])).toEqual(['G4', 'A4']);
    expect(take.proposal?.notes.map(({ moved }) => Math.round(moved))).toEqual([-20, -20]);
    expect(take.preview?.voices[0]?.notes[0]?.pitches).toEqual(['G4']);
    expect(page.score).toEqual(blankSong());
  });

  it('writes it on yes, and goes on after it', () => {
    const { take, page } = played(20);
    take.accept();
    expect(take.state).toBe('idle');
    expect(page.score.voices[0]?.notes.slice(0, 2).map(({ pitches }) => pitches[0])).toEqual([
      'G4',
      'A4',
    ]);
    expect(page.hand.at).toBe(40320);
  });

  it('measures against the click as it is heard, also where the audio device starts late and goes in steps', () => {
    const page = new Page();
    const start = performance.now();
    // It stands still for 180 ms, then its clock is read in steps of 10 ms.
    const now = (): number => Math.floor(Math.max(0, performance.now() - start - 180) / 10) / 100;
    const heardAt = (seconds: number): number => performance.now() + (seconds - now()) * 1000;
    const take = new Take(page, () => ({ ...device, now, heardAt }));
    take.perMinute = 120;
    take.start();
    const bar = start + 180 + 150 + 2000;
    vi.advanceTimersByTime(2400);
    take.hear({ midi: 67, down: true, at: bar });
    take.hear({ midi: 67, down: false, at: bar + 480 });
    take.stop(bar + 500);
    expect(take.proposal?.notes).toHaveLength(1);
    expect(Math.abs(take.proposal?.notes[0]?.moved ?? NaN)).toBeLessThanOrEqual(10);
  });

  it('keeps what was heard as it was played, where the click is set otherwise before it is written', () => {
    const { take } = played(20);
    const before = take.proposal;
    take.perMinute = 60;
    expect(take.proposal).toEqual(before);
  });

  it.each([Number.NaN, 0, -60, 1000, null as unknown as number])(
    'does not begin at a click of %s, and says which it has',
    (perMinute) => {
      const page = new Page();
      const take = new Take(page, () => device);
      take.perMinute = perMinute;
      take.start();
      expect([take.state, page.said]).toEqual([
        'idle',
        'The click is between 30 and 240 a minute.',
      ]);
      expect(sounded).toEqual([]);
    },
  );

  it('begins again without the clicks and the count of the first time', () => {
    const page = new Page();
    const take = new Take(page, () => device);
    take.perMinute = 120;
    take.start();
    vi.advanceTimersByTime(1000);
    take.start();
    sounded.length = 0;
    const timers = vi.getTimerCount();
    take.drop();
    expect([timers, vi.getTimerCount()]).toEqual([2, 0]);
  });

  it('says so where no key was heard', () => {
    const page = new Page();
    const take = new Take(page, () => device);
    take.start();
    take.stop(performance.now());
    expect(take.state).toBe('idle');
    expect(page.said).toBe('No key was heard.');
  });

  it('takes no key for a note that is tried while it is counted in', () => {
    const page = new Page();
    const take = new Take(page, () => device);
    take.start();
    take.hear({ midi: 60, down: true, at: performance.now() + 300 });
    take.hear({ midi: 60, down: false, at: performance.now() + 400 });
    take.stop(performance.now() + 500);
    expect(take.state).toBe('idle');
  });
});
