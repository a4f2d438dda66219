import type { Chord, ChordKind } from '../../pitch/chord.ts';
import { say, symbolIn } from '../../pitch/chord-symbol.ts';
import type { Key } from '../../pitch/key.ts';
import type { NamedNotes } from '../../pitch/note-names.ts';
import { LETTERS, type Letter, type NoteName } from '../../pitch/pitch.ts';
import { el, text, type Xml } from './xml.ts';

/** How a kind is printed after its root, in the plain text style of lead sheets (common practice). */
const SUFFIX: Readonly<Record<ChordKind, string>> = {
  major: '',
  minor: 'm',
  augmented: '+',
  diminished: 'dim',
  dominant: '7',
  'major-seventh': 'maj7',
  'minor-seventh': 'm7',
  'diminished-seventh': 'dim7',
  'augmented-seventh': '+7',
  'half-diminished': 'm7♭5',
  'major-minor': 'm(maj7)',
  'major-sixth': '6',
  'minor-sixth': 'm6',
  'dominant-ninth': '9',
  'major-ninth': 'maj9',
  'minor-ninth': 'm9',
  'dominant-11th': '11',
  'major-11th': 'maj11',
  'minor-11th': 'm11',
  'dominant-13th': '13',
  'major-13th': 'maj13',
  'minor-13th': 'm13',
  'suspended-second': 'sus2',
  'suspended-fourth': 'sus4',
  Neapolitan: 'N6',
  Italian: 'It6',
  French: 'Fr6',
  German: 'Ger6',
  pedal: 'ped',
  power: '5',
  Tristan: 'Tristan',
  other: '',
  none: 'N.C.',
};

/** Kind and degrees as printed after the root, with real accidentals. The bass is printed apart. */
function printedKind(chord: Chord): string {
  return say({ ...chord, root: 'C', bass: null }).replace(/^C/, '');
}

function step(prefix: 'root' | 'bass', note: NoteName): Xml {
  const letter = note[0] as Letter;
  if (!LETTERS.includes(letter)) throw new TypeError(`not a note name: ${note}`);
  const alter = note.slice(1).replaceAll('b', '').length - note.slice(1).replaceAll('#', '').length;
  return el(
    prefix,
    {},
    text(`${prefix}-step`, letter),
    alter !== 0 && text(`${prefix}-alter`, alter),
  );
}

/**
 * A chord symbol for an engraver that prints it as it stands, whatever names it has, and N.C.: the text of the kind is the
 * whole of it. Something must stand before the kind; a root would be printed by its step all the same (Verovio 6), a
 * numeral is not.
 */
export function namedHarmony(
  chord: Chord | null,
  staff: number | null,
  offset: number,
  { names, key }: { readonly names: NamedNotes; readonly key: Key },
): Xml {
  const printed = chord ? symbolIn(chord, names, key) : 'N.C.';
  return el(
    'harmony',
    { placement: 'above' },
    el('numeral', {}, text('numeral-root', 1, { text: '' })),
    text('kind', 'other', { text: printed }),
    offset !== 0 && text('offset', offset),
    staff !== null && text('staff', staff),
  );
}

/**
 * A chord symbol as `<harmony>`; null is "no chord".
 * @param offset divisions after the note it stands before
 * @param degrees `apart`: as elements of their own, for programs; `printed`: only in the printed text of the kind, for
 *   an engraver that sets degree elements in its own way
 */
export function harmony(
  chord: Chord | null,
  staff: number | null,
  offset = 0,
  degrees: 'apart' | 'printed' = 'apart',
): Xml {
  const printed = !chord ? 'N.C.' : degrees === 'printed' ? printedKind(chord) : SUFFIX[chord.kind];
  const rootless = !chord || chord.kind === 'none';
  const root = rootless
    ? el('root', {}, text('root-step', chord?.root[0] ?? 'C', { text: '' }))
    : step('root', chord.root);
  return el(
    'harmony',
    { placement: 'above' },
    root,
    text('kind', chord?.kind ?? 'none', { text: printed }),
    chord?.bass ? step('bass', chord.bass) : null,
    degrees === 'apart' &&
      chord?.degrees.map((degree) =>
        el(
          'degree',
          {},
          text('degree-value', degree.value),
          text('degree-alter', degree.alter),
          text('degree-type', degree.type),
        ),
      ),
    offset !== 0 && text('offset', offset),
    staff !== null && text('staff', staff),
  );
}
