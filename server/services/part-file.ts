import {
  NotedDetails,
  PartFiles,
  type MidiWriteOptions,
  type Part,
  type PartOwner,
  type SongDetails,
} from '#music';
import type { PartFileKind } from '../contract/part-files.ts';

export interface PartFile {
  readonly ending: string;
  /** Its media type. */
  readonly type: string;
  readonly content: string | Uint8Array;
}

type Asked = Pick<MidiWriteOptions, 'passes' | 'countIn' | 'click'>;

/** Media types as registered with IANA, but for MIDI (RFC 4735 has none for files; `audio/midi` is common practice). */
const KINDS: Readonly<
  Record<
    PartFileKind,
    Omit<PartFile, 'content'> & {
      readonly write: (part: Part, owner: PartOwner, asked: Asked) => PartFile['content'];
    }
  >
> = {
  musicxml: {
    ending: 'musicxml',
    type: 'application/vnd.recordare.musicxml+xml',
    write: PartFiles.musicXml,
  },
  mxl: { ending: 'mxl', type: 'application/vnd.recordare.musicxml', write: PartFiles.mxl },
  midi: {
    ending: 'mid',
    type: 'audio/midi',
    write: (part, _, { passes = 'once', countIn = false, click = false }) =>
      PartFiles.midi(part, { passes, countIn, click }),
  },
};

export const PART_FILE_TYPES: readonly string[] = Object.values(KINDS).map(({ type }) => type);

/** A part as a file for another program. */
export function partFile(part: Part, owner: PartOwner, as: PartFileKind, asked: Asked): PartFile {
  const { ending, type, write } = KINDS[as];
  return { ending, type, content: write(part, owner, asked) };
}

/** The part with what the team knows of its song, which its file says as that of the song does. */
export function withDetails(part: Part, details: SongDetails): Part {
  const facts = NotedDetails.noted(part.score.facts, details, 'musicxml');
  return { ...part, score: { ...part.score, facts } };
}

/** `Amazing Grace, keys, for Ines`; whose it is is left out where nobody is named. */
export function partFileName(title: string, role: string, name: string): string {
  return [title, role, name === '' ? '' : `for ${name}`].filter((each) => each !== '').join(', ');
}
