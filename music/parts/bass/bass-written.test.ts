import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { pitchClassesOf } from '../../pitch/chord-symbol.ts';
import { midiOf, pitchClassOf, type PitchName } from '../../pitch/pitch.ts';
import { QUARTER, type Note, type Score } from '../../score/score.ts';
import { bassSong, type BassSong } from './bass-song.ts';
import { stretchesOf, writtenBass } from './bass-written.ts';
import { writtenOut } from '../form/written-out.ts';

/** Bars of four with a chord each or several, and a bass in quarters: `F2 F2 E2 D2`; `-` goes on, `z` is a rest. */
function songWith(symbols: string, bass: string): BassSong {
  const tune = songOf(symbols);
  const notes: Note[] = [];
  bass.split(' ').forEach((name, i) => {
    const last = notes.at(-1);
    if (name === '-' && last) notes[notes.length - 1] = { ...last, length: last.length + QUARTER };
    else notes.push({ at: i * QUARTER, length: QUARTER, pitches: name === 'z' ? [] : [name] });
  });
  const voice = { id: 'low', name: 'low', group: 'Hymn', staff: 2, clef: 'bass', notes } as const;
  const score: Score = { ...tune, voices: [...tune.voices, voice] };
  const song = bassSong(writtenOut(score), { level: 'advanced' }, { roles: ['bass'] });
  if (!song.ok) throw new Error(JSON.stringify(song.problems));
  return song.value;
}

/** The bars of four that are taken from the song, as they are played: `G2 A2 B2 C3`; `–` none. */
function taken(symbols: string, bass: string): string {
  const song = songWith(symbols, bass);
  const written = writtenBass(song);
  return stretchesOf(song.score, song.chords)
    .map(({ from }) =>
      (written.get(from) ?? [])
        .map(({ pitch, passing }) => (passing ? pitch.toLowerCase() : pitch))
        .join(' '),
    )
    .map((each) => each || '–')
    .join(' | ');
}

describe('the bass that is written in the song', () => {
  // C in C major; the last bar is that on which the song ends.
  const END = '"C"C4|]';
  const LAST = ' C3 - - -';
  it.each([
    [
      'chord notes, in each octave as they stand',
      `"C"C4|"F"F4|${END}`,
      'C3 E3 G3 C3 A2 - F2 -',
      'C3 E3 G3 C3 | A2 F2 | –',
    ],
    [
      'steps between',
      `"C"C4|"F"F4|${END}`,
      'C3 D3 E3 G3 F2 G2 A2 F2',
      'C3 d3 E3 G3 | F2 g2 A2 F2 | –',
    ],
    [
      'no leap to what is not in the chord',
      `"C"C4|"F"F4|${END}`,
      'C3 F3 E3 C3 A2 - F2 -',
      '– | A2 F2 | –',
    ],
    ['no such note for two beats', `"C"C4|"F"F4|${END}`, 'C3 D3 - E3 A2 - F2 -', '– | A2 F2 | –'],
    [
      'a step at the end where the written bass goes on',
      `"C"C4|"F"F4|${END}`,
      'C3 E3 C3 B2 A2 - F2 -',
      'C3 E3 C3 b2 | A2 F2 | –',
    ],
    ['but not where it does not', `"C"C4|"G"G4|${END}`, 'C3 E3 C3 C#3 D3 B2 G2 G2', '– | – | –'],
    ['no chord over its fifth', `"C"C4|"F"F4|${END}`, 'C3 E3 C3 C3 C3 - F2 -', 'C3 E3 C3 | – | –'],
    [
      'nothing where it rests on the root through a bar',
      `"C"C4|"F"F4|${END}`,
      'C3 - - - F2 - A2 -',
      '– | F2 A2 | –',
    ],
    [
      'its own note where the section begins',
      `"C"C4|"F"F4|${END}`,
      'E3 - C3 - F2 - A2 -',
      '– | F2 A2 | –',
    ],
    ['nothing where it rests', `"C"C4|"F"F4|${END}`, 'C3 E3 z C3 F2 - A2 -', '– | F2 A2 | –'],
    [
      'the bass that a person wrote',
      `"C"C4|"F/A"F4|${END}`,
      'C3 E3 G3 C3 F2 - A2 -',
      'C3 E3 G3 C3 | – | –',
    ],
  ])('%s', (_, symbols, bass, expected) => {
    expect(taken(symbols, bass + LAST)).toBe(expected);
  });

  it('is none where the tune stands alone', () => {
    const alone = songOf(`"C"C4|"F"F4|${END}`);
    const song = bassSong(writtenOut(alone), { level: 'advanced' }, { roles: ['bass'] });
    if (!song.ok) throw new Error('no song');
    expect(writtenBass(song.value).size).toBe(0);
  });

  it('is taken as often as can be: the largest of all choices of stretches', () => {
    const chords = fc.array(fc.constantFrom('C', 'F', 'G7', 'Am', 'C/E'), {
      minLength: 2,
      maxLength: 4,
    });
    const low = ['E2', 'F2', 'G2', 'A2', 'B2', 'C3', 'D3', 'E3'];
    fc.assert(
      fc.property(
        chords,
        fc.array(fc.constantFrom(...low), { minLength: 20, maxLength: 20 }),
        (names, notes) => {
          const symbols = `${names.map((name) => `"${name}"C4|`).join('')}"Dm"D4|]`;
          const song = songWith(symbols, notes.slice(0, 4 * (names.length + 1)).join(' '));
          const found = writtenBass(song);
          const stretches = stretchesOf(song.score, song.chords);
          expect(stretches.map(({ from }) => found.has(from))).toEqual(mostOf(song, notes));
        },
      ),
      { numRuns: 300 },
    );
  });
});

/** Every choice of bars, tried one by one; shares no code with the planner. A bar to a chord, or a chord for bars. */
function mostOf({ score, chords }: BassSong, notes: readonly PitchName[]): boolean[] {
  const bars = score.bars.map((_, i) => notes.slice(4 * i, 4 * i + 4).map(midiOf));
  const under = score.bars.map(({ at }) =>
    chords.findIndex((each) => each.at <= at && at < each.at + each.length),
  );
  const fits = (i: number, chosen: readonly boolean[]): boolean => {
    const [bar = [], entry] = [bars[i], chords[under[i] ?? -1]];
    if (!entry || under[i] === chords.length - 1) return false;
    const { chord } = entry;
    const tones = [...pitchClassesOf(chord), pitchClassOf(chord.bass ?? chord.root)];
    const isTone = (midi: number) => tones.includes(midi % 12);
    const own = (bar[0] ?? 0) % 12 === pitchClassOf(chord.bass ?? chord.root);
    const fifth = (pitchClassOf(chord.root) + 7) % 12;
    const begins = entry.at === score.bars[i]?.at;
    if (own && new Set(bar).size === 1) return false;
    if (i === 0 && !own) return false;
    if (
      begins &&
      (chord.bass !== null || (bar[0] ?? 0) % 12 === fifth || !isTone(bar[0] ?? 0)) &&
      !own
    )
      return false;
    return bar.every((midi, k) => {
      if (isTone(midi)) return true;
      const before = bar[k - 1];
      const next = k < 3 ? bar[k + 1] : chosen[i + 1] ? bars[i + 1]?.[0] : undefined;
      if (before === undefined || next === undefined) return false;
      return [before, next].every((each) => [1, 2].includes(Math.abs(each - midi)));
    });
  };
  let best: boolean[] = bars.map(() => false);
  for (let choice = 0; choice < 2 ** bars.length; choice += 1) {
    const chosen = bars.map((_, i) => ((choice >> i) & 1) === 1);
    if (!chosen.every((is, i) => !is || fits(i, chosen))) continue;
    const many = (all: readonly boolean[]) => all.filter(Boolean).length;
    if (many(chosen) > many(best)) best = chosen;
  }
  return best;
}
