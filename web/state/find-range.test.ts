import { beforeEach, describe, expect, it, vi } from 'vitest';
import { RangeFinding } from './find-range.svelte.ts';
import type { PitchFrame } from './sung-notes.ts';

/** What the microphone would tell, frame by frame. */
let hear: (frame: PitchFrame) => void = () => undefined;
const stopped = vi.fn();
vi.mock('./microphone.svelte.ts', () => ({
  Microphone: class {
    hearing = 'listening';
    constructor(onframe: (frame: PitchFrame) => void) {
      hear = onframe;
    }
    start = () => Promise.resolve();
    stop = stopped;
  },
}));

let now = 0;
beforeEach(() => {
  now = 0;
  stopped.mockClear();
  vi.spyOn(performance, 'now').mockImplementation(() => now * 1000);
});

/** Sings for so long, or is silent with null. */
function sing(seconds: number, midi: number | null): void {
  const end = now + seconds;
  for (; now < end - 1e-9; now += 0.02) hear({ seconds: now, midi });
}

function begun(voice: 'lower' | 'middle' | 'higher' | 'child') {
  const sounded: string[] = [];
  const finding = new RangeFinding({ tap: (pitch) => sounded.push(pitch) });
  finding.choose(voice);
  return { finding, sounded };
}

describe('Finding a range by singing', () => {
  it('lets each asked note sound, and is deaf while it does', () => {
    const { finding, sounded } = begun('lower');
    expect(sounded).toEqual(['D3']);
    sing(1.4, 50);
    expect([finding.sung, finding.held, finding.asked]).toEqual([null, 0, 'D3']);
  });

  it('counts a note as easy that is held for a second, vibrato or not, and asks the next', () => {
    const { finding, sounded } = begun('lower');
    now = 2;
    sing(0.6, 50.2);
    expect(finding.sung).toBeCloseTo(50.2);
    expect(finding.held).toBeGreaterThan(0.3);
    expect(finding.held).toBeLessThan(1);
    sing(0.7, 49.8);
    expect(sounded).toEqual(['D3', 'C3']);
    expect([finding.sung, finding.held]).toEqual([null, 0]);
  });

  it('counts no other note, however long, and none that is left in between', () => {
    const { finding } = begun('lower');
    now = 2;
    sing(3, 51);
    expect([finding.asked, finding.held, finding.octaveAway]).toEqual(['D3', 0, 0]);
    sing(0.8, 50);
    sing(0.5, null);
    sing(0.8, 50);
    expect(finding.asked).toBe('D3');
  });

  it('says that it is sung an octave lower, counts it not, and looks there when asked to', () => {
    const { finding, sounded } = begun('higher');
    now = 2;
    sing(2, 53);
    expect([finding.asked, finding.octaveAway]).toEqual(['F4', -1]);
    finding.takeOctave();
    expect([finding.asked, finding.octaveAway]).toEqual(['F3', 0]);
    expect(sounded.at(-1)).toBe('F3');
  });

  it('goes back step by step, in the end to the question, and lets the microphone go', () => {
    const { finding } = begun('middle');
    finding.answer('easy');
    expect(finding.asked).toBe('G3');
    finding.back();
    expect(finding.asked).toBe('A3');
    finding.back();
    expect([finding.search, finding.asked]).toEqual([null, null]);
    expect(stopped).toHaveBeenCalled();
  });

  it('ends with a range, and listens no longer', () => {
    const { finding } = begun('child');
    finding.answer('easy');
    finding.answer('hard');
    finding.answer('easy');
    expect(stopped).not.toHaveBeenCalled();
    finding.answer('hard');
    expect(finding.found).toEqual({ low: 'F4', high: 'G4' });
    expect(stopped).toHaveBeenCalled();
    now = 10;
    sing(2, 65);
    expect(finding.sung).toBeNull();
  });
});
