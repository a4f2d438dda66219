import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { read as readChord } from '../pitch/chord-symbol.ts';
import { QUARTER } from '../score/score.ts';
import { apply, say, type Edit } from './editing.ts';

const read = readChord('Am7');
const song = buildScore({
  key: 'G',
  meter: '3/4',
  voices: { tune: 'D4 | G4:2 B4/0 | A4+C5:3'.replace('B4/0', 'B4'), alto: 'r:1 | r:3 | r:3' },
  words: ['la la la la'],
  chords: [[1, read.ok ? read.value : null]],
});
const at = QUARTER;
const voice = 'tune';

describe('the line of undo', () => {
  it.each<[Edit, string]>([
    [{ do: 'note', voice, at, length: 1.5 * QUARTER, pitches: ['Bb4'] }, 'Bar 1, beat 1: B♭4, a dotted quarter'],
    [{ do: 'note', voice, at: 0, length: QUARTER / 3, pitches: [], tuplet: { actual: 3, normal: 2 } }, 'The pickup, beat 3: a rest, a triplet eighth'],
    [{ do: 'note', voice: 'alto', at: 2.5 * QUARTER, length: QUARTER / 2, pitches: ['D4', 'F#4'] }, 'Bar 1, beat 2½, alto: D4 and F♯4, an eighth'],
    [{ do: 'note', voice, at, length: 2.5 * QUARTER, pitches: ['G4'] }, 'Bar 1, beat 1: G4, 2½ quarters'],
    [{ do: 'erase', voice, at: 4 * QUARTER }, 'Bar 2, beat 1: A4 and C5 erased'],
    [{ do: 'pitch', voice, at, pitches: ['A4'] }, 'Bar 1, beat 1: G4 becomes A4'],
    [{ do: 'fermata', voice, at, on: true }, 'Bar 1, beat 1: fermata'],
    [{ do: 'add voice', id: 'x', name: 'Descant', clef: 'treble' }, 'Voice added: Descant'],
    [{ do: 'remove voice', voice: 'alto' }, 'Voice taken out: alto'],
    [{ do: 'syllable', at, verse: 2, syllable: { text: 'grace' } }, 'Bar 1, beat 1, verse 2: “grace”'],
    [{ do: 'words', section: 'verse', verse: 2, text: 'la' }, 'Verse, verse 2: words under the notes'],
    [{ do: 'chord', at, symbol: 'Bb/D' }, 'Bar 1, beat 1: B♭/D'],
    [{ do: 'remove chord', at }, 'Bar 1, beat 1: Am7 taken away'],
    [{ do: 'insert bars', bar: 2, count: 2 }, 'Two bars put in before bar 2'],
    [{ do: 'remove bars', from: 0, to: 2 }, 'The pickup to bar 1 taken out'],
    [{ do: 'meter', bar: 1, meter: { beats: 6, unit: 8 } }, 'From bar 1 on: 6/8'],
    [{ do: 'key', bar: 1, key: { tonic: 'Eb', mode: 'major' } }, 'From bar 1 on: E♭ major'],
    [{ do: 'move to key', bar: 2, key: { tonic: 'A', mode: 'major' } }, 'From bar 2 on: moved to A major'],
    [{ do: 'repeat', bar: 1, end: true, endings: [1, 2] }, 'Bar 1: repeat ends and endings 1 and 2'],
    [{ do: 'begin section', bar: 2, kind: 'tag', name: 'Tag' }, 'Tag begins with bar 2'],
    [{ do: 'facts', facts: { title: 'New', tune: null } }, 'Facts changed: title and tune'],
    [{ do: 'tempo', tempo: { beat: 1.5 * QUARTER, perMinute: 60 } }, 'Tempo: dotted quarter = 60'],
  ])('says of %j: %s', (edit, words) => {
    expect(say(song, edit)).toBe(words);
    expect(apply(song, edit).ok).toBe(true);
  }); // prettier-ignore

  it('says that a silent pickup goes', () => {
    const erased = apply(song, { do: 'erase', voice, at: 0 });
    if (!erased.ok) throw new Error('it can be erased');
    const edit: Edit = { do: 'pickup', length: 0 };
    expect(say(erased.value, edit)).toBe('No pickup');
    expect(apply(erased.value, edit).ok).toBe(true);
  });

  it('does not know what another version can do', () => {
    const result = apply(song, { do: 'constructor' } as unknown as Edit);
    expect(result.ok ? '' : result.problems[0]?.message).toBe(
      'This version does not know that edit.',
    );
  });
});
