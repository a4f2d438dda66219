import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ChordSymbol, Fingering, Pitches } from '#music';

function table(name: string): string[][] {
  const text = readFileSync(new URL(`./tables/${name}.csv`, import.meta.url), 'utf8');
  const [, ...rows] = text.split('\n').filter((line) => line && !line.startsWith('#'));
  return rows.map((row) => row.split(','));
}

/** The tones of a chord stacked closed from the given one up, `count` notes, spelled. */
function closed(symbol: string, from: number, count: number): string[] {
  const chord = ChordSymbol.read(symbol);
  if (!chord.ok) throw new Error(symbol);
  const tones = ChordSymbol.tonesOf(chord.value);
  let before = 0;
  return Array.from({ length: count }, (_, i) => {
    const tone = tones[(from + i) % tones.length] ?? '';
    let octave = 3;
    while (Pitches.midiOf(`${tone}${octave}`) <= before) octave++;
    before = Pitches.midiOf(`${tone}${octave}`);
    return `${tone}${octave}`;
  });
}

const ROOTS = ['C', 'C#', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

describe('Triads, every inversion, both hands, every key (published charts, see the table)', () => {
  const rows = table('triad-fingerings').map(([position = '', right = '', left = '']) => ({
    position,
    right,
    left,
  }));
  it.each(rows.map((row, inversion) => ({ ...row, inversion })))(
    '$position: right $right, left $left',
    ({ right, left, inversion }) => {
      for (const root of ROOTS)
        for (const kind of ['', 'm', 'dim', 'aug']) {
          const notes = closed(root + kind, inversion, 3);
          expect(Fingering.ofShape(notes, 'right').join(''), notes.join(' ')).toBe(right);
          expect(Fingering.ofShape(notes, 'left').join(''), notes.join(' ')).toBe(left);
        }
    },
  );

  it('however it is spelled', () => {
    expect(Fingering.ofShape(['D#4', 'G4', 'A#4'], 'right')).toEqual([1, 3, 5]);
    expect(Fingering.ofShape(['G4', 'A#4', 'D#5'], 'right')).toEqual([1, 2, 5]);
    expect(Fingering.ofShape(['A#3', 'D#4', 'G4'], 'left')).toEqual([5, 2, 1]);
  });
});

describe('Triads with the lowest note doubled at the octave (Beringer & Dunhill 1900, broken chords)', () => {
  const rows = table('beringer-dunhill-1900').map(([key = '', main = '', others = '']) => ({
    key,
    main,
    others,
  }));

  it('has all 24 keys', () => expect(rows).toHaveLength(24));

  it.each(rows)('$key', ({ key, main }) => {
    const [name = '', mode] = key.split('_');
    const root =
      name.charAt(0).toUpperCase() + name.slice(1).replace('flat', 'b').replace('sharp', '#');
    const [right = '', left = ''] = main.split('@');
    for (let form = 0; form < 4; form++) {
      const notes = closed(root + (mode === 'minor' ? 'm' : ''), form % 3, 4);
      const printed = (hand: string) => hand.slice(4 * form, 4 * form + 4);
      expect(Fingering.ofShape(notes, 'right').join(''), notes.join(' ')).toBe(printed(right));
      expect(Fingering.ofShape(notes, 'left').join(''), notes.join(' ')).toBe(printed(left));
    }
  });

  it('prints alternatives only for breaking: where they differ, one finger plays two notes', () => {
    for (const { main, others } of rows.filter((row) => row.others !== 'x@x')) {
      const forms = (text: string) => text.split('@').flatMap((hand) => hand.match(/.{4}/g) ?? []);
      const printed = forms(main);
      forms(others).forEach((form, i) => {
        if (form !== printed[i])
          expect(new Set(form).size, `${form} for ${printed[i] ?? ''}`).toBe(3);
      });
    }
  });
});
