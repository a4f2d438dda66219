import type { FileKind } from '#server/contract/library.ts';
import { fileAddress, LIBRARY_ADDRESS } from '#web/api/library.ts';

export interface WayOut {
  readonly name: string;
  readonly address: string;
}

const NAMES: Readonly<Record<FileKind, string>> = {
  musicxml: 'MusicXML',
  mxl: 'compressed MusicXML',
  abc: 'ABC notation',
  midi: 'MIDI',
  words: 'words with chords',
};

/**
 * The files a song can be taken out as.
 * @param hasTune without one there are no notes to write: words with chords alone
 */
export function waysOut(id: string, hasTune: boolean): WayOut[] {
  const kinds: FileKind[] = hasTune ? ['musicxml', 'mxl', 'abc', 'midi', 'words'] : ['words'];
  return kinds.map((as) => ({ name: NAMES[as], address: fileAddress(id, as) }));
}

export const LIBRARY_FILE = LIBRARY_ADDRESS;
