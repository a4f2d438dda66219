import type { FileQuery } from '#server/contract/library.ts';
import { fileAddress, LIBRARY_ADDRESS } from '#web/api/library.ts';

export interface WayOut {
  readonly name: string;
  readonly address: string;
}

type Way = readonly [name: string, asked: FileQuery];

const WORDS: Way = ['words with chords', { as: 'words' }];
const NOTES: readonly Way[] = [
  ['MusicXML', { as: 'musicxml' }],
  ['compressed MusicXML', { as: 'mxl' }],
  ['ABC notation', { as: 'abc' }],
  ['MIDI', { as: 'midi' }],
  ['MIDI with count-in and click', { as: 'midi', passes: 'form', countIn: '1', click: '1' }],
];

/**
 * The files a song can be taken out as.
 * @param hasTune without one there are no notes to write: words with chords alone
 */
export function waysOut(id: string, hasTune: boolean): WayOut[] {
  const ways = hasTune ? [...NOTES, WORDS] : [WORDS];
  return ways.map(([name, asked]) => ({ name, address: fileAddress(id, asked) }));
}

export const LIBRARY_FILE = LIBRARY_ADDRESS;
