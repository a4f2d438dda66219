import { symbolIn } from './chord-names.ts';
import type { Chord } from './chord.ts';
import { sayNote, type Key } from './key.ts';
import { say as named, type NamedNotes } from './note-names.ts';
import type { NoteName, PitchName } from './pitch.ts';

/** How the sentences of a part say notes and chords. */
export interface Says {
  /** A note, or a pitch with its octave: `B♭`, `B3`, `Si♭3`. */
  readonly note: (note: PitchName | NoteName) => string;
  /** A chord symbol: `B♭7/D`, `B7/D`, `Si♭7/Re`. */
  readonly chord: (chord: Chord) => string;
  /** A key: `B♭ major`, `B major`, `Si♭ major`. */
  readonly key: (key: Key) => string;
}

/** Neither names notes by their key, so any will do. */
const ANY: Key = { tonic: 'C', mode: 'major' };

function of(names: Exclude<NamedNotes, 'numbers'>): Says {
  const note: Says['note'] = (each) =>
    names === 'english' ? sayNote(each) : named(each, names, ANY) + (/\d+$/.exec(each)?.[0] ?? '');
  return {
    note,
    chord: (chord) => symbolIn(chord, names, ANY),
    key: ({ tonic, mode }) => `${note(tonic)} ${mode}`,
  };
}

export const ENGLISH: Says = of('english');
const SAYS = { english: ENGLISH, german: of('german'), solfege: of('solfege') } as const;

/**
 * What sentences say for somebody who calls notes so. Fingers, bars and beats are numbers already, so whoever reads
 * chord symbols as numbers has the letters in sentences.
 */
export function says(names: NamedNotes = 'english'): Says {
  return SAYS[names === 'numbers' ? 'english' : names];
}
