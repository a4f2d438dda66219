import type { SongSource } from '../store/songs.store.ts';

/** What a source is called and how it travels. */
interface SourceKind {
  readonly type: string;
  readonly ending: string;
}

const KINDS = {
  abc: { type: 'text/vnd.abc', ending: 'abc' },
  words: { type: 'text/plain', ending: 'txt' },
  written: { type: 'text/plain', ending: 'txt' },
  midi: { type: 'audio/midi', ending: 'mid' },
  musicxml: { type: 'application/vnd.recordare.musicxml+xml', ending: 'musicxml' },
  mxl: { type: 'application/vnd.recordare.musicxml', ending: 'mxl' },
} as const satisfies Readonly<Record<SongSource['format'] | 'mxl', SourceKind>>;

export const SOURCE_TYPES: readonly string[] = [
  ...new Set(Object.values(KINDS).map(({ type }) => type)),
];

/** PK: a zip, as compressed MusicXML is. */
const isZip = ([first, second]: Uint8Array): boolean => first === 0x50 && second === 0x4b;

function kindOf({ format, bytes }: Pick<SongSource, 'format' | 'bytes'>): SourceKind {
  return KINDS[format === 'musicxml' && isZip(bytes) ? 'mxl' : format];
}

export const sourceType = (source: Pick<SongSource, 'format' | 'bytes'>): string =>
  kindOf(source).type;

/** `abc`, `txt`, `mid`, `musicxml`, `mxl`. */
export const sourceEnding = (source: Pick<SongSource, 'format' | 'bytes'>): string =>
  kindOf(source).ending;
