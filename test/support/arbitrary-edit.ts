import fc from 'fast-check';
import { QUARTER, type Edit, type Key, type Pass, type Score } from '#music';

/**
 * Any edit of a song: places inside, on and beyond its edges, voices, verses and sections that it has and some that it has
 * not, numbers that are none. Invented data, for properties only.
 */
export function anyEdit(score: Score): fc.Arbitrary<Edit> {
  const end = score.bars.reduce((sum, { length }) => sum + length, 0);
  const starts = score.voices.flatMap(({ notes }) => notes.map(({ at }) => at));
  const at = fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom(...starts) },
    { weight: 3, arbitrary: fc.nat(end * 8).map((eighth) => Math.floor(eighth / 8)) },
    { weight: 1, arbitrary: fc.constantFrom(-1, end, end + 1, 0.5, Number.NaN, 1e12) },
  );
  const length = fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom(0.25, 0.5, 1, 1.5, 2, 3, 5, 9).map((each) => each * QUARTER) }, // prettier-ignore
    { weight: 1, arbitrary: fc.constantFrom(0, -1, 7, QUARTER / 3, Number.POSITIVE_INFINITY, 0.1) },
  );
  const voice = some(score.voices.map(({ id }) => id), 'nobody'); // prettier-ignore
  const section = some(score.sections.map(({ id }) => id), 'nowhere'); // prettier-ignore
  const verse = fc.constantFrom(1, 1, 2, 2, 3, 4, 0, -1, 100, 1.5);
  const bar = fc.integer({ min: -1, max: score.bars.length + 1 });
  const pitch = fc.constantFrom('C4', 'G4', 'F#5', 'Bb3', 'E4', 'Cb5', 'C4', 'H2', '', 'G99');
  const pitches = fc.array(pitch, { maxLength: 3 });
  const text = fc.oneof(fc.constantFrom('Praise', 'A-ma-zing grace, how sweet', 'Glo-_-ri-a', '_', '-', '', '   ', '—'), fc.string({ unit: 'binary', maxLength: 20 })); // prettier-ignore
  const kind = fc.constantFrom('verse', 'refrain', 'chorus', 'bridge', 'tag', 'intro', 'ending', 'vamp', 'other'); // prettier-ignore
  const loop = fc.record({ cue: text, amen: fc.boolean() });
  const meter = fc.record({
    beats: fc.constantFrom(2, 3, 4, 6, 9, 5, null, 0, 1.5, 400),
    unit: fc.constantFrom(1, 2, 4, 8, 16, 3, 0, -4),
  });
  const key: fc.Arbitrary<Key> = fc.record({
    tonic: fc.constantFrom('C', 'F#', 'Bb', 'E', 'Ab', 'D##', 'H'),
    mode: fc.constantFrom('major', 'major', 'minor', 'dorian'),
  });
  const pass: fc.Arbitrary<Pass> = fc.record({ section, verse: fc.option(verse) });
  const is = <const T extends Edit['do']>(value: T): fc.Arbitrary<T> => fc.constant(value);
  const range = fc.record({ low: pitch, high: pitch });
  return fc.oneof(
    fc.record({ do: is('note'), voice, at, length, pitches }),
    fc.record({ do: is('note'), voice, at, length, pitches, tuplet: fc.record({ actual: fc.constantFrom(3, 5, 0, 99), normal: fc.constantFrom(2, 4, 0) }) }), // prettier-ignore
    fc.record({ do: is('erase'), voice, at }),
    fc.record({ do: is('pitch'), voice, at, pitches }),
    fc.record({ do: fc.constantFrom('tie', 'fermata', 'slur'), voice, at, on: fc.boolean() }),
    fc.record({ do: is('add voice'), id: some(['alto', 'V1'], ''), name: text, clef: fc.constantFrom('treble', 'bass') }), // prettier-ignore
    fc.record({ do: is('remove voice'), voice }),
    fc.record({ do: is('syllable'), at, verse, syllable: fc.option(fc.record({ text }, { requiredKeys: ['text'] })) }), // prettier-ignore
    fc.record({ do: is('words'), section, verse, text, from: at }, { requiredKeys: ['do', 'section', 'verse', 'text'] }), // prettier-ignore
    fc.record({ do: is('remove verse'), verse }),
    fc.record({ do: is('chord'), at, symbol: fc.constantFrom('C', 'Am7/G', 'F#dim', null, 'N.C.', 'H7', ''), until: at }, { requiredKeys: ['do', 'at', 'symbol'] }), // prettier-ignore
    fc.record({ do: is('remove chord'), at }),
    fc.record({ do: is('chords as in'), from: section, to: section }),
    fc.record({ do: is('insert bars'), bar, count: fc.constantFrom(1, 2, 3, 0, -1, 1e9) }),
    fc.record({ do: is('remove bars'), from: bar, to: bar }),
    fc.record({ do: is('pickup'), length }),
    fc.record({ do: is('meter'), bar, meter }),
    fc.record({ do: is('key'), bar, key: fc.option(key) }),
    fc.record({ do: is('move to key'), bar, key }),
    fc.record({ do: is('repeat'), bar, start: fc.boolean(), end: fc.boolean(), endings: fc.array(fc.constantFrom(1, 2, 3, 0), { maxLength: 2 }) }), // prettier-ignore
    fc.record({ do: is('give time'), meter, barsPerChord: fc.constantFrom(1, 2, 0.5, 0, -1) }),
    fc.record({ do: is('begin section'), bar, kind, name: text }),
    fc.record({ do: is('begin section'), bar, kind, name: text, loop }),
    fc.nat({ max: score.bars.length - 1 }).chain((index) => {
      const from = score.bars[index]?.at ?? 0;
      return fc.record({ do: is('begin section'), bar: fc.constant(index), at: fc.integer({ min: -1, max: 4 }).map((step) => from + (step * QUARTER) / 2), kind, name: text }); // prettier-ignore
    }),
    fc.record({ do: is('section'), id: section, kind, name: text, loop: fc.option(loop) }),
    fc.record({ do: is('join section'), id: section }),
    fc.record({ do: is('form'), form: fc.array(pass, { maxLength: 4 }) }),
    fc.record({ do: is('facts'), facts: fc.record({ title: text, tune: fc.option(text) }, { requiredKeys: [] }) }), // prettier-ignore
    fc.record({ do: is('compass'), compass: fc.option(fc.record({ low: pitch, high: pitch, mostly: fc.option(range) })) }), // prettier-ignore
    fc.record({ do: is('tempo'), tempo: fc.option(fc.record({ beat: length, perMinute: fc.constantFrom(60, 0, -1, 1e9, 72.5) })), bar }, { requiredKeys: ['do', 'tempo'] }), // prettier-ignore
  );
}

function some(ids: readonly string[], missing: string): fc.Arbitrary<string> {
  return fc.oneof(
    { weight: 8, arbitrary: fc.constantFrom(...ids) },
    { weight: 1, arbitrary: fc.constant(missing) },
  );
}
