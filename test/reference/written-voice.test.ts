import { describe, expect, it } from 'vitest';
import { MusicXml, Parts, Time, type Note, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/**
 * Ranges of a choir's voices, the safe ones: the library hmt of Haskell (Rohan Drape), Music.Theory.Choir, version 0.20.
 * The written voices are those of the Open Hymnal Project's files, read as `abc-abcjs.test.ts` checks it.
 */
const CHOIR = [
  { name: 'alto', voice: 'S1V2', range: { low: 'G3', high: 'C5' } },
  { name: 'tenor', voice: 'S2V1', range: { low: 'C3', high: 'F4' } },
  { name: 'bass', voice: 'S2V2', range: { low: 'G2', high: 'C4' } },
] as const;

function sungBy(file: string, range: { low: string; high: string }) {
  const song = hymn(file);
  const arrangement = { key: Time.keyAt(song, 0).key, tempo: null, density: 'bar' } as const;
  const player = { id: 'bo', name: 'Bo', role: 'harmony voice', level: 'beginner', reach: 12, voice: range } as const; // prettier-ignore
  const built = Parts.build(song, arrangement, player, { roles: ['lead voice'] });
  if (!built.ok) throw new Error(built.problems[0]?.message);
  return { song, part: built.value };
}

const wordsOf = (notes: readonly Note[], verse: number): string =>
  notes.map(({ syllables }) => syllables?.[verse]?.text ?? '').join(' ').replace(/ +/g, ' ').trim(); // prettier-ignore
/** What a line has at a moment. Nun danket is written as two staves of two notes each, the others voice by voice. */
function lineOf(song: Score, name: string | undefined): (at: number) => readonly string[] {
  const own = CHOIR.find((each) => each.name === name)?.voice ?? song.melody;
  const voice = song.voices.find(({ id }) => id === own);
  if (voice) return (at) => Time.noteAt(voice, at)?.pitches ?? [];
  const staff = song.voices.find(({ id }) => id === own.slice(0, 2)) ?? Time.melodyOf(song);
  const which = name === 'tenor' ? [-1] : [0, 1];
  return (at) => (Time.noteAt(staff, at)?.pitches ?? []).slice(...which);
}

describe('A harmony voice with the range of a choir’s voice', () => {
  it('is given that written voice in most hymns, and always one that sits there', () => {
    const right = CHOIR.map(
      ({ name, range }) =>
      HYMN_FILES.filter((file) => sungBy(file, range).part.summary.startsWith(`This is the written ${name}`)), // prettier-ignore
    );
    process.stdout.write(
      `written voices: ${CHOIR.map(({ name }, place) => `${name} in ${right[place]?.length ?? 0}`).join(', ')} of ${HYMN_FILES.length} hymns\n`,
    );
    for (const files of right) expect(files.length).toBeGreaterThan(HYMN_FILES.length / 2);
  });

  it.each(HYMN_FILES)(
    '%s: sings its pitches, to the words of the tune, syllable for syllable',
    (file) => {
      for (const { range } of CHOIR) {
        const { song, part } = sungBy(file, range);
        const sung = part.score.voices[0]?.notes ?? [];
        const name = /^This is the written (\w+)/.exec(part.summary)?.[1];
        // Where none of them sits there, a line is made: see `second-voice-parts.test.ts`.
        if (name === undefined) continue;
        const tune = Time.melodyOf(song).notes;
        song.verses.forEach((_, verse) => {
          expect(wordsOf(sung, verse)).toBe(wordsOf(tune, verse));
        });
        // Where a note is sung again for another syllable, what sounds at every moment is the same.
        const written = lineOf(song, name);
        for (const note of sung) expect(note.pitches).toEqual(written(note.at));
        expect(sung.reduce((sum, { length }) => sum + length, 0)).toBe(Time.endOf(song));
        expect(MusicXml.write(part.score)).toContain('<score-partwise');
      }
    },
  );
});
