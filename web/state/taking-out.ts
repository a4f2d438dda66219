import type { FileQuery } from '#server/contract/library.ts';
import { fileAddress, LIBRARY_ADDRESS } from '#web/api/library.ts';
import type { PagesOf } from '#web/api/pages.ts';
import {
  filesAddress,
  partAddress,
  type PartFileAsked,
  type PartWish,
} from '#web/api/part-files.ts';

export interface WayOut {
  readonly name: string;
  readonly address: string;
}

type Way = readonly [name: string, asked: FileQuery];

const MIDI_TO_PRACTISE = { as: 'midi', passes: 'form', countIn: '1', click: '1' } as const;
const WORDS: Way = ['words with chords', { as: 'words' }];
const NOTES: readonly Way[] = [
  ['MusicXML', { as: 'musicxml' }],
  ['compressed MusicXML', { as: 'mxl' }],
  ['ABC notation', { as: 'abc' }],
  ['MIDI', { as: 'midi' }],
  ['MIDI with count-in and click', MIDI_TO_PRACTISE],
];

/**
 * The files a song can be taken out as.
 * @param hasTune without one there are no notes to write: words with chords alone
 */
export function waysOut(id: string, hasTune: boolean): WayOut[] {
  const ways = hasTune ? [...NOTES, WORDS] : [WORDS];
  return ways.map(([name, asked]) => ({ name, address: fileAddress(id, asked) }));
}

const PART: readonly (readonly [name: string, asked: PartFileAsked])[] = [
  ['MusicXML', { as: 'musicxml' }],
  ['compressed MusicXML', { as: 'mxl' }],
  ['MIDI', { as: 'midi' }],
  ['MIDI with count-in and click', MIDI_TO_PRACTISE],
];

/** The files that one part of a song can be taken out as. */
export const partWaysOut = (song: string, wish: PartWish): WayOut[] =>
  PART.map(([name, asked]) => ({ name, address: partAddress(song, wish, asked) }));

const ALL_PARTS: readonly (readonly [name: string, asked: PartFileAsked])[] = [
  ['MusicXML and MIDI', {}],
  ['MusicXML', { as: 'musicxml' }],
  ['compressed MusicXML', { as: 'mxl' }],
  ['MIDI with count-in and click', MIDI_TO_PRACTISE],
];

/**
 * What all parts of a person for a service can be taken out as, in one zip.
 * @param played what they read in another key than it is planned; null: nothing
 */
export const allPartsOut = (of: PagesOf, member: string, played: string | null): WayOut[] =>
  ALL_PARTS.map(([name, asked]) => ({
    name,
    address: filesAddress(of, member, { ...asked, played }),
  }));

/** By person: all their parts in one zip, notes and sound. */
export const everyonesPartsOut = (
  service: string,
  people: readonly { readonly id: string; readonly name: string }[],
): WayOut[] => people.map(({ id, name }) => ({ name, address: filesAddress({ service }, id, {}) }));

export const LIBRARY_FILE = LIBRARY_ADDRESS;
