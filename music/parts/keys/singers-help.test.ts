import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import type { Singer } from '../../voice/range.ts';
import { build } from '../parts.ts';
import { propose } from './singers-help.ts';

const singer = (name: string, low: string, high: string): Singer => ({
  id: name.toLowerCase(),
  name,
  comfortable: { low, high },
});
const ADA = singer('Ada', 'C4', 'C5');
const DORA = singer('Dora', 'B3', 'B4');
const MARIT = singer('Marit', 'G3', 'B4');
const LENA = singer('Lena', 'C4', 'F5');
const TOMAS = singer('Tomas', 'G2', 'D4');
const ELIAS = singer('Elias', 'C3', 'C4');

const LOW = songOf('"C"C2C2|"G"D2B,2|"F"D4|"C"C4|]', ['one two three four five six']);

describe('help for the singers', () => {
  it('pulses what is low for most voices, and says why with its bars and pitches', () => {
    const [help, ...others] = propose(LOW, [ADA, DORA, MARIT]);
    expect(others).toEqual([]);
    expect(help).toMatchObject({ help: 'pulse', steps: { pulse: true }, lowFor: ['ada', 'dora'] });
    expect(help?.words).toBe(
      `Pulse the chord note that carries the tune, softer than the chord, in ${LOW.sections[0]?.name ?? ''} (bars 1 to 4): a quarter of it or more lies at C4 or below, near the lowest comfortable note of Ada (C4) and Dora (B3).`,
    );
    // D is no note of F A C.
    expect(help?.withoutWords).toBe('no chord note carries the tune in bar 3');
    expect(help?.without.map(({ number }) => number)).toEqual([3]);
  });

  it('is not needed where it is low for fewer than half of the voices, or for none', () => {
    expect(propose(LOW, [ADA, MARIT, TOMAS])).toEqual([]);
    expect(propose(LOW, [ADA, MARIT])).toHaveLength(1);
    expect(propose(songOf('"C"A2c2|"G"B2G2|]', ['one two three four']), [ADA, DORA])).toEqual([]);
    expect(propose(LOW, [])).toEqual([]);
    expect(propose(songOf('C2C2|D2B,2|]', ['one two three four']), [])).toEqual([]);
  });

  it('says how far below somebody’s lowest comfortable note it lies', () => {
    const far = singer('Joel', 'Eb4', 'C5');
    // A quarter lies at C4 or below: at Ada's C4, one half step above Dora's B3, three below Joel's E♭4.
    expect(propose(LOW, [far])[0]?.words).toContain(
      'lies at C4 or below, three half steps or more below Joel’s lowest comfortable note (E♭4).',
    );
    expect(propose(LOW, [ADA, far, DORA])[0]?.words).toContain(
      'near the lowest comfortable note of Ada (C4) and Dora (B3), and three half steps or more below Joel’s lowest comfortable note (E♭4).',
    );
  });

  it('knows who sings an octave lower', () => {
    const [help] = propose(LOW, [ELIAS]);
    expect(help?.words).toContain('Elias (C3, singing an octave lower)');
  });

  it('turns the tune outside where a section begins with a leap of a sixth or more', () => {
    const song = songOf('"C"G2e2|"F"d4|"C"e4|]', ['one two three four']);
    const [help] = propose(song, [LENA]);
    expect(help).toMatchObject({ help: 'tune on top', steps: { right: 3 }, lowFor: [] });
    expect(help?.words).toMatch(/\(bars 1 to 3\): it begins with a leap from G4 to E5 in bar 1\.$/);
    expect(help?.withoutWords).toBe('no chord note carries the tune in bar 2');
    expect(propose(songOf('"C"G2c2|"C"e4|]', ['one two three']), [LENA])).toEqual([]);
  });

  it('turns the tune outside where a section begins in another key', () => {
    const song = songOf(
      'P:A\n"C"c2e2|"F"f4|"C"e4|]\nP:B\n[K:D]"D"d2f2|"A"e4|"D"d4|]',
      [],
      'P:AB\nM:4/4\nL:1/4',
    );
    const helps = propose(song, [singer('Lena', 'C4', 'A5')]);
    expect(helps.map(({ help, newKey }) => [help, newKey?.tonic])).toEqual([['tune on top', 'D']]);
    expect(helps[0]?.words).toMatch(/\(bars 4 to 6\): it begins in another key, D major\.$/);
  });

  it('gives steps that a part is built with', () => {
    const [help] = propose(LOW, [ADA, DORA]);
    if (!help) throw new Error('no help');
    const rungs = { right: 1, left: 1, pedal: 0, texture: 1 } as const;
    const softs = [{}, { sections: { [help.section]: help.steps } }].map((own) => {
      const part = build(
        LOW,
        { key: { tonic: 'C', mode: 'major' }, tempo: null, density: 'bar' },
        {
          id: 'p',
          name: 'Ines',
          role: 'keys',
          level: 'beginner',
          reach: 12,
          rungs: { ...rungs, ...own },
        },
        { roles: ['keys'] },
      );
      if (!part.ok) throw new Error(JSON.stringify(part.problems));
      const { score } = part.value;
      const right = score.voices.find(({ id }) => id === 'right')?.notes ?? [];
      const start = score.sections.find(({ id }) => id === 'introduction')?.to ?? 0;
      return right
        .filter(({ at, soft }) => soft && at >= start)
        .map(({ at, pitches }) => `${(at - start) / 20160} ${pitches.join()}`);
    });
    expect(softs).toEqual([
      [],
      // Bars 1, 2 and 4; nothing in bar 3, where no chord note is sung.
      ['1 C4', '2 C4', '3 C4', '5 D4', '6 D4', '7 D4', '13 C4', '14 C4', '15 C4'],
    ]);
  });
});
