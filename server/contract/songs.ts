import type { TextReading } from '#music';
import { z } from 'zod';
import { DeletedAt, Id, KeyName, Place, ScoreJson, Version } from './music.ts';
import { SongDetails } from './library.ts';
import { SentProblem } from './problems.ts';

const TEXT_READINGS = [
  'heading',
  'chords',
  'words',
  'nothing',
] as const satisfies readonly TextReading[];

/** Where a song comes from; `written`: it was written in the editor. */
const SOURCES = ['abc', 'words', 'musicxml', 'midi', 'written'] as const;

export const SongListItem = z
  .object({
    id: Id,
    title: z.string(),
    tune: z.string().nullable(),
    key: KeyName,
    version: Version,
    deletedAt: DeletedAt,
  })
  .meta({ id: 'SongListItem' });
export type SongListItem = z.infer<typeof SongListItem>;

export const SongList = z.object({ songs: z.array(SongListItem) }).meta({ id: 'SongList' });
export type SongList = z.infer<typeof SongList>;

export const SongListQuery = z.object({
  deleted: z
    .enum(['0', '1'])
    .default('0')
    .meta({ description: '1: the deleted songs, which can be restored' }),
});

/** The chord that a person wrote from a place on. `symbol` null: no chord there (N.C.). */
export const ChordCorrection = z
  .object({ at: Place, length: Place, symbol: z.string().max(40).nullable() })
  .meta({ id: 'ChordCorrection' });
export type ChordCorrection = z.infer<typeof ChordCorrection>;

export const SongAnswers = z
  .object({ key: KeyName.nullable().meta({ description: 'The answer to a doubt about the key' }) })
  .meta({ id: 'SongAnswers' });
export type SongAnswers = z.infer<typeof SongAnswers>;

export const Song = z
  .object({
    id: Id,
    version: Version,
    deletedAt: DeletedAt,
    score: ScoreJson.meta({ description: 'With the answers and corrections worked in' }),
    source: z.object({
      format: z.enum(SOURCES),
      text: z.string().nullable().meta({
        description:
          'As it was understood; /source has the bytes. null: no text (MIDI, compressed MusicXML, a song written here)',
      }),
    }),
    details: SongDetails,
    privateNote: z.string(),
    warnings: z.array(SentProblem),
    answers: SongAnswers,
    corrections: z.array(ChordCorrection),
  })
  .meta({ id: 'Song' });
export type Song = z.infer<typeof Song>;

/** As it is typed; the editor and `PATCH` take no longer one. */
const SongTitle = z.string().min(1).max(500);

/** A song as it is brought: text, bytes in base64 where its encoding is not known to be UTF-8, or music that was written here. */
export const NewSong = z
  .object({
    format: z.enum(SOURCES),
    score: ScoreJson.exactOptional().meta({ description: 'written: the song itself' }),
    text: z.string().min(1).exactOptional(),
    bytes: z.base64().min(1).exactOptional(),
    tune: z.int().min(0).exactOptional().meta({
      description:
        'Which tune of the file, from 0; needed where there are several. MIDI: which track is the tune',
    }),
    marks: z
      .array(
        z.object({
          line: z.int().min(1).meta({ description: '1-based line of the text' }),
          column: z.int().min(1).exactOptional().meta({
            description: '1-based column of the first letter of one word; missing: the whole line',
          }),
          as: z.enum(TEXT_READINGS),
        }),
      )
      .max(2000)
      .exactOptional()
      .meta({ description: 'Words with chords: what a person said a line or a word is' }),
    title: SongTitle.exactOptional().meta({
      description: 'What it is called; missing: as its source says, if it does',
    }),
    answers: z.object({ key: KeyName.exactOptional() }).exactOptional(),
    draft: z
      .string()
      .regex(/^[\w-]{16,64}$/)
      .exactOptional()
      .meta({
        description:
          'A name that whoever sends it made by chance. Sent again with the same name, it is the same song and no second one',
      }),
  })
  .refine(
    ({ format, text, bytes, score }) =>
      [text, bytes, score].filter((each) => each !== undefined).length === 1 &&
      (format === 'written') === (score !== undefined),
    { path: ['text'] },
  )
  .meta({ id: 'NewSong' });
export type NewSong = z.infer<typeof NewSong>;

/**
 * The whole music of a song, as it was edited: what was answered and corrected before is part of it. To undo, send the
 * earlier one.
 */
export const SongScore = z.object({ score: ScoreJson }).meta({ id: 'SongScore' });
export type SongScore = z.infer<typeof SongScore>;

/** Each field is one answer. To undo, send the earlier one. */
export const SongChange = z
  .object({
    key: KeyName.nullable()
      .exactOptional()
      .meta({ description: 'Answers the doubt about the key; null takes the answer back' }),
    chord: z
      .union([
        z.object({
          at: Place,
          length: Place.exactOptional().meta({
            description: 'How long it lasts; missing: as long as the chord that is found there',
          }),
          symbol: z.string().max(40).nullable(),
        }),
        z.object({ at: Place, remove: z.literal(true) }),
      ])
      .exactOptional()
      .meta({
        description:
          'Corrects the chord there (`symbol` null: no chord), or takes the correction back',
      }),
    title: SongTitle.exactOptional(),
    tune: z.string().max(500).nullable().exactOptional().meta({
      description: 'The name of the tune; null: it has none',
    }),
  })
  .refine((change) => Object.values(change).some((value) => value !== undefined), {
    message: 'changes nothing',
  })
  .meta({ id: 'SongChange' });
export type SongChange = z.infer<typeof SongChange>;
