import { describe, expect, it } from 'vitest';
import * as music from '#music';

/** What outsiders call by name, as the design has promised it; more may stand beside it, none of it may go. */
const PROMISED: readonly (readonly [module: string, functions: readonly string[]])[] = [
  ['ChordSymbol', ['read', 'write']],
  ['Abc', ['read', 'write']],
  ['MusicXml', ['write']],
  ['Transpose', ['score']],
  ['Tessitura', ['of']],
  ['KeyFit', ['table']],
  ['RightHand', ['plan']],
  ['Difficulty', ['ofMove']],
  ['LeftHand', ['plan']],
  ['Fingering', ['ofShape']],
  ['CountIn', ['of']],
  ['Reduction', ['chords']],
  ['Parts', ['build']],
];

describe('The door of the music core', () => {
  it.each(PROMISED)('has %s with %j', (module, functions) => {
    const found = (music as Readonly<Record<string, unknown>>)[module];
    for (const name of functions)
      expect(found, `${module}.${name}`).toHaveProperty(name, expect.any(Function));
  });

  it('gives pitches by their scientific names: C4 is the middle C, number 60 of MIDI', () => {
    expect(music.Pitches.midiOf('C4')).toBe(60);
  });
});
