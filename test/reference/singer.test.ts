import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Parts, Pitches, Time, type Key, type Player } from '#music';
import { readByAbcjs } from '#test/support/abcjs-reader.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

// Independent reading: abcjs 6.7.2, parseOnly; its first voice is the tune.
const folder = new URL('../../seed-data/hymns/', import.meta.url);
const HIGH = Pitches.midiOf('C5');
const ADA: Player = {
  id: 'ada',
  name: 'Ada',
  role: 'lead voice',
  level: 'beginner',
  reach: 12,
  // So wide below that no octave down is better.
  voice: { low: 'C3', high: 'C5' },
};

describe('a singer’s marks, where an independent reader (abcjs) has the notes', () => {
  it.each(HYMN_FILES)('%s: each note beyond the range stands in a marked stretch', (file) => {
    const score = hymn(file);
    const key = score.keys[0]?.key as Key;
    const built = Parts.build(score, { key, tempo: null, density: 'bar' }, ADA, { roles: [] });
    if (!built.ok) throw new Error(JSON.stringify(built.problems));
    const down = built.value.directions.some(({ words }) =>
      words.includes('sing an octave lower than written'),
    );
    const [tune] = readByAbcjs(readFileSync(new URL(file, folder), 'latin1'));
    const top = (pitches: readonly string[]) =>
      Math.max(...pitches.map(Pitches.midiOf)) - (down ? 12 : 0);
    const theirs = (tune?.notes ?? []).map(({ at, length, pitches }) => ({
      at,
      length,
      midi: top(pitches),
    }));
    const marks = Time.melodyOf(built.value.score).notes.filter(({ above }) => above !== undefined);
    const tooHigh = marks.filter(({ above }) => above === 'too high').map(({ at }) => at);
    // Each mark stands on a note beyond the range …
    for (const at of tooHigh)
      expect(theirs.find((each) => each.at === at)?.midi).toBeGreaterThan(HIGH);
    // … and from each note beyond it back to a mark all notes follow without a rest and stay up there.
    theirs.forEach((note, i) => {
      if (note.midi <= HIGH) return;
      let first = i;
      for (let k = i; k >= 0; k -= 1) {
        const [here, before] = [theirs[k], theirs[k - 1]];
        if (here && here.midi > HIGH) first = k;
        const joined = before && here && before.at + before.length === here.at;
        if (!joined || before.midi < HIGH - 1) break;
      }
      expect(tooHigh).toContain(theirs[first]?.at);
    });
  });
});
