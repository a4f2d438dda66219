import { z } from 'zod';
import { SongDetails } from './library.ts';
import { ArrangedPass, Density, KeyName, TempoMark } from './music.ts';
import { SentProblem } from './problems.ts';
import { ChordCorrection } from './songs.ts';

/**
 * The layout of a library that is taken out: a zip with a folder for each song, in open formats, and `manifest.json`,
 * which says what each is and holds what no format of music has a place for. Private notes and people are not in it.
 */
export const ARCHIVE = { layout: 'partbook-library', version: 1 } as const;

/** Files of a song's folder, besides the source, which is called as its format is. */
export const SCORE_FILES = {
  /** The music whole and exact, as `music/score/score.ts` has it. */
  score: 'score.json',
  musicxml: 'song.musicxml',
  abc: 'song.abc',
  words: 'song.txt',
} as const;
/** Of a folder: those, and the source. */
export const MOST_FILES = Object.keys(SCORE_FILES).length + 1;

/** No other file of a folder is looked at. */
const Name = z.string().regex(/^(score\.json|song\.(musicxml|abc|txt)|source\.[a-z]{2,10})$/);

export const ArchivedSong = z.object({
  folder: z
    .string()
    .max(200)
    .regex(/^songs\/[^/\\]+$/),
  title: z.string(),
  /** SHA-256 of each file, in hexadecimal. */
  files: z
    .record(Name, z.string().regex(/^[0-9a-f]{64}$/))
    .refine((files) => Object.keys(files).length <= MOST_FILES, 'has more files than a song'),
  /** As it was brought; null: it was written in the app. */
  source: z
    .object({
      file: Name,
      format: z.enum(['abc', 'words', 'musicxml', 'midi']),
      tune: z.int().min(0),
    })
    .nullable(),
  answeredKey: KeyName.nullable(),
  corrections: z.array(ChordCorrection).max(5000),
  warnings: z.array(SentProblem).max(1000),
  details: SongDetails,
  arrangement: z.object({
    key: KeyName,
    tempo: TempoMark.nullable(),
    density: Density,
    form: z
      .array(ArrangedPass.omit({ lead: true }))
      .min(1)
      .max(60)
      .nullable(),
  }),
});
export type ArchivedSong = z.output<typeof ArchivedSong>;

export const ArchiveManifest = z.object({
  layout: z.literal(ARCHIVE.layout),
  version: z.literal(ARCHIVE.version),
  /** Each is read by itself, so that one that is broken keeps no other out. */
  songs: z.array(z.unknown()).max(50_000),
});
