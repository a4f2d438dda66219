import { midiOf, noteOf } from '../../pitch/pitch.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import type { PlacedBass } from './bass-practice.ts';

/**
 * What there is to find, string by string from the lowest, for the head of a sheet: `A string: B♭ fret 1, C fret 3`,
 * `D string: open D, F fret 3`. After them, that all of it sounds an octave lower than it is written.
 */
export function neckOf(held: readonly PlacedBass[], says: Says = ENGLISH): string[] {
  const strings = new Map<string, Map<number, PlacedBass>>();
  for (const each of held) {
    const { string, fret } = each.place;
    const frets = strings.get(string) ?? new Map<number, PlacedBass>();
    if (!frets.has(fret)) frets.set(fret, each);
    strings.set(string, frets);
  }
  const openOf = ({ pitch, place }: PlacedBass): number => midiOf(pitch) - place.fret;
  const found = [...strings].map(([string, frets]) => {
    const notes = [...frets.values()].sort((a, b) => a.place.fret - b.place.fret);
    const said = notes.map(({ pitch, place: { fret } }) => {
      const note = says.note(noteOf(pitch));
      return fret === 0 ? `open ${note}` : `${note} fret ${fret}`;
    });
    const [first] = notes;
    return {
      open: first ? openOf(first) : 0,
      words: `${says.note(string)} string: ${said.join(', ')}`,
    };
  });
  if (found.length === 0) return [];
  const words = found.sort((a, b) => a.open - b.open).map((each) => each.words);
  return [...words, 'sounds an octave lower than written'];
}
