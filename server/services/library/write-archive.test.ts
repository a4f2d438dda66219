import { describe, expect, it } from 'vitest';
import type { TeamStore } from '../../store/store.ts';
import { archiveStream } from './write-archive.ts';

/** A library of so many songs, of which nothing is read but how many there are. */
const libraryOf = (count: number): TeamStore =>
  ({
    songs: { list: async () => Array.from({ length: count }, (_, i) => ({ id: `${i}` })) },
  }) as unknown as TeamStore;

describe('an archive', () => {
  // APPNOTE 6.3.10, 4.4.22: the number of files has two bytes.
  it('is refused with a sentence where a zip cannot count its files', async () => {
    await expect(archiveStream(libraryOf(16_384))).rejects.toMatchObject({
      code: 'not-possible',
      message: expect.stringMatching(/^The book has 16,384 songs, and one archive holds 16,383\./),
    });
    (await archiveStream(libraryOf(16_383))).destroy();
  });
});
