import { Editing, QUARTER, type Score, type Ticks } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Playback, type Listened, type PlayDevice } from './edit-playback.svelte.ts';

/** A device whose clock is that of the test, and that writes down what it is told to sound. */
class FakeDevice implements PlayDevice {
  made: 'recorded' | 'plain' | 'silent' = 'recorded';
  readonly sounded: { pitch: string; at: number; released: number[] }[] = [];

  ready(): Promise<'recorded' | 'plain' | 'silent'> {
    return Promise.resolve(this.made);
  }
  now(): number {
    return performance.now() / 1000;
  }
  at(pitch: string, seconds: number) {
    const one = { pitch, at: seconds - begun, released: [] as number[] };
    this.sounded.push(one);
    return (at = performance.now() / 1000): void => void one.released.push(at - begun);
  }
}

class FakeSong implements Listened {
  score: Score | null = buildScore({
    key: 'C',
    meter: '4/4',
    tempo: 60,
    voices: { tune: 'C4 D4 E4:2' },
  });
  place = 0;
  take: { state: string } | null = null;
  readonly follow = (at: Ticks): void => void (this.place = at);
}

let begun = 0;
let [device, song] = [new FakeDevice(), new FakeSong()];
let playback = new Playback(song, device);

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'performance'] });
  [device, song] = [new FakeDevice(), new FakeSong()];
  playback = new Playback(song, device);
});
afterEach(() => {
  playback.stop();
  vi.useRealTimers();
});

async function start(): Promise<void> {
  // A tenth of a second is left to begin.
  begun = performance.now() / 1000 + 0.1;
  await playback.start();
}
const pass = (seconds: number): unknown => vi.advanceTimersByTime(seconds * 1000);

describe('A song that is listened to', () => {
  it('sounds on the clock of the device, and the cursor goes along; then it is back where one was', async () => {
    song.place = QUARTER;
    await start();
    expect(playback.state).toBe('playing');
    pass(1.2);
    expect(song.place).toBe(2 * QUARTER);
    pass(2.1);
    expect(playback.state).toBe('silent');
    expect(song.place).toBe(QUARTER);
    expect(device.sounded.map(({ pitch, at }) => `${pitch} ${at.toFixed(3)}`)).toEqual(['D4 0.000', 'E4 1.000']); // prettier-ignore
    expect(device.sounded[0]?.released[0]).toBeCloseTo(1);
  });

  it('begins at the beginning where the cursor is after the last bar', async () => {
    song.place = 4 * QUARTER;
    await start();
    expect(song.place).toBe(0);
  });

  it('stops at once where it is told to, and lets go of what sounds', async () => {
    await start();
    pass(1);
    playback.toggle();
    expect(playback.state).toBe('silent');
    expect(device.sounded.length).toBeGreaterThan(0);
    for (const { released } of device.sounded) expect(released).toHaveLength(2);
    const before = device.sounded.length;
    pass(3);
    expect(device.sounded).toHaveLength(before);
  });

  it.each([
    [
      'at an edit',
      () => {
        const done = Editing.apply(song.score as Score, { do: 'erase', voice: 'tune', at: 0 });
        if (!done.ok) throw new Error('refused');
        song.score = done.value;
      },
    ],
    ['where the cursor is put elsewhere', () => (song.place = 3 * QUARTER)],
    ['where a take begins', () => (song.take = { state: 'playing' })],
  ])('stops %s', async (_, change) => {
    // prettier-ignore
    await start();
    pass(0.5);
    change();
    const at = song.place;
    pass(0.1);
    expect(playback.state).toBe('silent');
    expect(song.place).toBe(at);
  });

  it('says that plain tones sound where the recordings did not come, and plays', async () => {
    device.made = 'plain';
    await start();
    expect(playback.state).toBe('playing');
    expect(playback.words).toMatch(/could not be fetched/);
  });

  it('says where nothing can sound', async () => {
    device.made = 'silent';
    await start();
    expect(playback.state).toBe('silent');
    expect(playback.words).toMatch(/nothing sound/);
    expect(device.sounded).toEqual([]);
  });

  it('that is told to stop while the piano is fetched does not begin', async () => {
    const started = playback.start();
    expect(playback.words).toMatch(/Fetching/);
    playback.toggle();
    await started;
    expect([playback.state, playback.words]).toEqual(['silent', '']);
    pass(1);
    expect(device.sounded).toEqual([]);
  });
});
