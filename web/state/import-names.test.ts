import { describe, expect, it } from 'vitest';
import { namesIn, withNames } from './import-names.ts';

describe('What the chords of a text are called', () => {
  it('is said in a line under its title, changed there, and taken out again', () => {
    const text = 'A song\n\nC  G\nwords here';
    const said = withNames(text, 'German');
    expect(said).toBe('A song\nChords: German\n\nC  G\nwords here');
    expect(namesIn(said)).toBe('German');
    expect(namesIn(withNames(said, 'numbers from 6-'))).toBe('numbers from 6-');
    expect(withNames(said, null)).toBe(text);
    expect(namesIn(text)).toBeNull();
  });
});
