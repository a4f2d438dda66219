import type { Layer, SongDetails as Details } from '#music';
import { z } from 'zod';
import { Id, KeyName, Pitch, TempoMark, Version } from './music.ts';
import { SentProblem } from './problems.ts';

const LAYERS = ['words', 'translation', 'tune', 'arrangement'] as const satisfies readonly Layer[];
const Words = z.string().trim().max(500);
const Year = z.int().min(1).max(2200).nullable();

export const SongDetails = z
  .object({
    firstLine: Words.nullable().default(null).meta({ description: 'null: as the words begin' }),
    hymnMeter: z.string().trim().max(80).nullable().default(null).meta({
      description: '8.6.8.6; null: as the syllables or the source give it',
    }),
    people: z
      .array(
        z.object({
          layer: z.enum(LAYERS),
          name: z.string().trim().min(1).max(120),
          born: Year.default(null),
          died: Year.default(null),
          year: Year.default(null).meta({ description: 'When it was made or first printed' }),
        }),
      )
      .max(20)
      .default([]),
    themes: z.array(z.string().trim().min(1).max(60)).max(30).default([]),
    scripture: z.array(z.string().trim().min(1).max(60)).max(30).default([]).meta({
      description: 'Books and chapters that exist: Psalm 23:1–6',
    }),
    language: z.string().trim().max(20).nullable().default(null).meta({
      description: 'Language tag of the words (BCP 47): en',
    }),
    rights: z
      .array(
        z.object({
          layer: z.enum(LAYERS),
          status: z.enum(['public domain', 'protected', 'our own', 'not known']),
          holder: z.string().trim().max(200).default(''),
          licence: z.string().trim().max(80).default(''),
          reason: Words.default('').meta({
            description: 'Why it is thought to be in the public domain; needed where it is',
          }),
          where: z.string().trim().max(200).default('').meta({ description: 'Where that holds' }),
        }),
      )
      .max(4)
      .default([]),
  })
  .meta({ id: 'SongDetails' }) satisfies z.ZodType<Details>;
export type SongDetails = z.output<typeof SongDetails>;

/** The whole of them, as `PUT` takes it. To undo, send the earlier one. */
export const SongDetailsChange = z
  .object({
    details: SongDetails,
    privateNote: z.string().max(4000).meta({
      description: 'For the team alone: on no page by link, in no file that is taken out',
    }),
  })
  .meta({ id: 'SongDetailsChange' });
export type SongDetailsChange = z.input<typeof SongDetailsChange>;

const Count = z.coerce.number().int();

/** Everything that is asked must hold; what is missing is not asked. */
export const SearchQuery = z.object({
  q: z.string().max(200).default('').meta({
    description:
      'Words of the title, first line, words, people, tune, theme, scripture; the last may be half typed, typos and accents are forgiven',
  }),
  key: z.string().max(30).exactOptional().meta({ description: 'G; E minor; D dorian' }),
  meter: z.string().max(10).exactOptional().meta({ description: '3/4; free' }),
  hymnMeter: z.string().max(80).exactOptional().meta({ description: '8.6.8.6; CM' }),
  theme: z.string().max(60).exactOptional(),
  book: z.string().max(40).exactOptional().meta({ description: 'Book of the Bible: Psalms' }),
  language: z.string().max(20).exactOptional(),
  slowest: Count.min(10).max(400).exactOptional().meta({ description: 'Felt beats a minute' }),
  fastest: Count.min(10).max(400).exactOptional(),
  low: Pitch.exactOptional().meta({
    description: 'With `high`: songs that sit between the two in some key (see `accidentals`)',
  }),
  high: Pitch.exactOptional(),
  accidentals: Count.min(0).max(7).exactOptional().meta({
    description: 'The most sharps or flats of a key that counts',
  }),
  rested: Count.min(0).max(1000).exactOptional().meta({
    description: 'Weeks since it was last sung, at least; a song that was never sung has rested',
  }),
  order: z.enum(['best', 'title', 'rested']).default('best'),
  from: Count.min(0).max(100_000).default(0),
  most: Count.min(1).max(500).default(100),
});
export type SearchQuery = z.input<typeof SearchQuery>;
export type SearchQueryRead = z.output<typeof SearchQuery>;

const SEARCH_FIELDS = [
  'title',
  'first line',
  'words',
  'people',
  'tune',
  'theme',
  'scripture',
] as const;
export type SearchField = (typeof SEARCH_FIELDS)[number];

/** A song as the book lists it. */
export const LibrarySong = z
  .object({
    id: Id,
    version: Version,
    title: z.string(),
    firstLine: z.string().nullable(),
    tune: z.string().nullable(),
    hymnMeter: z.string().nullable(),
    key: KeyName.meta({ description: 'The usual key' }),
    meter: z.string().meta({ description: '3/4; free' }),
    tempo: TempoMark.nullable(),
    low: Pitch.nullable().meta({ description: 'Lowest note of the tune in that key' }),
    high: Pitch.nullable(),
    themes: z.array(z.string()),
    lastSung: z.iso.date().nullable(),
    timesSung: z.int().min(0),
    found: z
      .array(z.object({ field: z.enum(SEARCH_FIELDS), text: z.string() }))
      .meta({ description: 'Where the words of the question stand, the best place first' }),
    fits: KeyName.nullable().meta({
      description: 'Where a range was asked: the nearest key in which it sits there',
    }),
  })
  .meta({ id: 'LibrarySong' });
export type LibrarySong = z.infer<typeof LibrarySong>;

export const SearchAnswer = z
  .object({
    songs: z.array(LibrarySong),
    count: z.int().min(0).meta({ description: 'How many there are, beyond those sent too' }),
    all: z.int().min(0).meta({ description: 'How many songs the book has' }),
  })
  .meta({ id: 'SearchAnswer' });
export type SearchAnswer = z.infer<typeof SearchAnswer>;

/** First notes of a tune, in any key. */
export const TuneQuery = z.object({
  notes: z.string().max(400).meta({ description: 'Pitches, parted by commas: D4,G4,B4,G4,B4' }),
});
export const TuneAnswer = z
  .object({
    songs: z.array(
      z.object({
        song: LibrarySong,
        distance: z.number().min(0).meta({ description: '0: note for note' }),
        bar: z.int().min(0).meta({ description: 'Bar in which the match begins' }),
      }),
    ),
  })
  .meta({ id: 'TuneAnswer' });
export type TuneAnswer = z.infer<typeof TuneAnswer>;

/** Songs of the same hymn meter: their tunes may carry these words, if stress agrees too. */
export const SameMeterAnswer = z
  .object({
    hymnMeter: z.string().nullable(),
    songs: z.array(LibrarySong),
    caution: z.string(),
  })
  .meta({ id: 'SameMeterAnswer' });
export type SameMeterAnswer = z.infer<typeof SameMeterAnswer>;

export const FILE_KINDS = ['musicxml', 'mxl', 'abc', 'midi', 'words'] as const;
const Yes = z
  .enum(['0', '1'])
  .default('0')
  .transform((text) => text === '1');
export const FileQuery = z.object({
  as: z.enum(FILE_KINDS),
  passes: z.enum(['once', 'form']).default('once').meta({
    description: 'MIDI: once through as it is printed, or all passes with repeats and endings',
  }),
  countIn: Yes.meta({ description: 'MIDI: 1 counts before the song' }),
  click: Yes.meta({ description: 'MIDI: 1 strikes every felt beat' }),
});
export type FileQuery = z.input<typeof FileQuery>;
export type FileQueryRead = z.output<typeof FileQuery>;
export type FileKind = (typeof FILE_KINDS)[number];

/** Files of a folder, as many as fit into one request; the page sends the rest after it. */
export const NewSongs = z
  .object({
    files: z
      .array(z.object({ name: z.string().min(1).max(300), bytes: z.base64().max(12_000_000) }))
      .min(1)
      .max(100),
    doubles: z.enum(['leave', 'bring']).default('leave').meta({
      description: 'What happens to a song that is in the book already',
    }),
  })
  .meta({ id: 'NewSongs' });
export type NewSongs = z.input<typeof NewSongs>;
export type NewSongsRead = z.output<typeof NewSongs>;

/** A song that is like one that is brought. */
const Double = z.object({
  id: Id,
  title: z.string(),
  because: z.enum(['title', 'first line', 'melody']).meta({
    description: 'melody: the same notes, perhaps in another key',
  }),
});

/** What of a song tells whether it is in the book, drawn from it as `LibraryEntries.of` does. */
export const DoubleQuestion = z
  .object({
    title: z.string().max(500),
    firstLine: z.string().max(1000).nullable(),
    lines: z.array(z.string().max(1000)).max(2000),
    steps: z.array(z.int().min(-200).max(200)).max(10_000).meta({
      description: 'Semitones from each note of the tune to the next',
    }),
  })
  .meta({ id: 'DoubleQuestion' });
export type DoubleQuestion = z.output<typeof DoubleQuestion>;

export const DoubleAnswer = z
  .object({
    double: Double.extend({
      key: KeyName.meta({ description: 'In which the song of the book is written' }),
    }).nullable(),
  })
  .meta({ id: 'DoubleAnswer' });
export type DoubleAnswer = z.infer<typeof DoubleAnswer>;

/** What became of one file; a file of several songs has a line for each. */
export const ImportLine = z
  .object({
    file: z.string(),
    title: z.string().nullable(),
    outcome: z.enum(['in', 'in with guesses', 'left out', 'failed']),
    song: Id.nullable(),
    why: z.string().meta({ description: 'One sentence for a person; empty where all is well' }),
    problems: z.array(SentProblem),
    double: Double.nullable(),
  })
  .meta({ id: 'ImportLine' });
export type ImportLine = z.infer<typeof ImportLine>;

export const ImportReport = z.object({ lines: z.array(ImportLine) }).meta({ id: 'ImportReport' });
export type ImportReport = z.infer<typeof ImportReport>;

/** Beside an archive of the library, as `GET /api/library` gives it. */
export const LibraryQuery = z.object({
  doubles: z.enum(['leave', 'bring']).default('leave').meta({
    description: 'What happens to a song that is in the book already',
  }),
  from: Count.min(0).max(50_000).default(0).meta({
    description: 'Songs of the archive that are passed over, from its first',
  }),
  most: Count.min(1).max(50_000).default(50_000).meta({ description: 'Songs that are brought' }),
});
export type LibraryQuery = z.input<typeof LibraryQuery>;
export type LibraryQueryRead = z.output<typeof LibraryQuery>;

/** What is being brought, to be stopped by its name. */
export const UnderwayQuery = z.object({ import: z.string().min(1).max(40) });

/** The type of an answer that comes line by line, each a JSON text of its own. */
export const ROWS = 'application/x-ndjson';

/**
 * A row of what is said while an archive is brought in: first how many songs there are, then a line for each, at last how it
 * ended. Without that last row the connection broke, and nothing is known of what came after.
 */
export const ImportRow = z
  .union([
    z.object({
      import: z.string().meta({ description: 'Its name, as long as it is under way' }),
      of: z.int().min(0).meta({ description: 'Songs that are brought' }),
    }),
    z.object({ line: ImportLine }),
    z.object({ end: z.enum(['done', 'stopped', 'failed']) }),
  ])
  .meta({ id: 'ImportRow' });
export type ImportRow = z.infer<typeof ImportRow>;
