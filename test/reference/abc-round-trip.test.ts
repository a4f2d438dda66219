import { readdirSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Abc } from '#music';
import { anyScore } from '#test/support/arbitrary-score.ts';
import { hymn } from '#test/support/hymn.ts';

const files = readdirSync(new URL('../../seed-data/hymns/', import.meta.url)).filter((file) =>
  file.endsWith('.abc'),
);

function again(text: string): unknown {
  const read = Abc.read(text);
  return read.ok ? read.value[0] : read.problems;
}

describe('What is written as ABC comes back the same', () => {
  it.each(files)('%s', (file) => {
    const score = hymn(file);
    const text = Abc.write(score);
    expect(again(text)).toEqual(score);
  });

  it('any score that ABC can hold', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyScore, (score) => {
        expect(again(Abc.write(score))).toEqual(score);
      }),
      { numRuns: 250, seed: 20260101 },
    );
  });
});
