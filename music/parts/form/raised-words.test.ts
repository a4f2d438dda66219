import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import type { Arrangement, ArrangedPass, Player } from '../arrangement.ts';
import { build } from '../parts.ts';

const song = hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc');
/** The last verse and refrain, as the ups say. */
function said(role: Player['role'], ups: readonly number[], names?: 'german'): string[][] {
  const form = song.form.map((pass, i): ArrangedPass => {
    const up = ups[i - (song.form.length - ups.length)] ?? 0;
    return up === 0 ? pass : { ...pass, up };
  });
  const arrangement: Arrangement = { key: { tonic: 'D', mode: 'major' }, tempo: null, density: 'bar', form }; // prettier-ignore
  const player: Player = { id: 'p', name: 'Ines', role, level: 'beginner', reach: 12, ...(names && { names }) }; // prettier-ignore
  const part = build(song, arrangement, player, { roles: [] });
  if (!part.ok) throw new Error(part.problems[0]?.message);
  return part.value.directions.map(({ words }) => words.filter((line) => /into \S+ major/.test(line))); // prettier-ignore
}

describe('What is said beside a section in another key', () => {
  it('is how far it steps, and where to; nothing where the key goes on', () => {
    const step = ['straight up a whole step, into E major'];
    expect(said('keys', [2, 2])).toEqual([[], [], [], step, []]);
    expect(said('bass', [2, 2])).toEqual([[], [], [], step, []]);
  });

  it('tells singers their first note, as they call it', () => {
    // By hand: the verse begins on F♯ in D, the refrain too; a whole step higher is G♯, a half step G.
    expect(said('lead voice', [2, 2])).toEqual([[], [], ['straight up a whole step, into E major; begin on G♯'], []]); // prettier-ignore
    expect(said('lead voice', [2, 2], 'german')[2]?.[0]).toMatch(/begin on gis$/i);
  });

  it('calls the key as the player calls notes', () => {
    // H major is B major in German (LilyPond’s `deutsch`, see test/reference/note-names.test.ts).
    expect(said('keys', [-3, -3], 'german')[3]).toEqual(['straight down a minor third, into H major']); // prettier-ignore
  });

  it('goes on from the pass before, up again and down', () => {
    expect(said('bass', [1, 2]).slice(3)).toEqual([
      ['straight up a half step, into E♭ major'],
      ['straight up a half step, into E major'],
    ]);
    // The refrain that goes down again is that of all other verses: it says which time.
    expect(said('bass', [2, 0]).slice(2)).toEqual([
      ['refrain, third time: straight down a whole step, into D major'],
      ['straight up a whole step, into E major'],
    ]);
  });
});
