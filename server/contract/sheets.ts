import type { Sheet } from '#music';
import { z } from 'zod';
import { Density, Id, KeyName, LevelName, NamesOfNotes, Place, RoleName } from './music.ts';

const KeyText = z
  .string()
  .min(1)
  .max(20)
  .meta({ description: 'A key as people write it: F, Bb, F# minor, E dorian' });

export const Width = z.coerce
  .number()
  .int()
  .min(320)
  .max(2560)
  .meta({ description: 'Width of the page in CSS pixels' });

export const TextSize = z.coerce
  .number()
  .min(0.6)
  .max(2)
  .meta({ description: 'Size of the words and notes against the usual' });

export const Verse = z
  .union([z.literal('all'), z.coerce.number().int().min(1).max(99)])
  .meta({ description: 'The verse under the notes, or all' });

/** Of a sheet, which is for a form. */
export const SungVerse = Verse.exactOptional().meta({
  description:
    'The verse under the notes, or all that are sung. Missing, or where it is not sung: the first that is',
});

const KnownVersion = z.coerce.number().int().exactOptional().meta({
  description: 'The version that is asked about; makes the address of each version its own',
});

const step = (last: number) => z.coerce.number().int().min(1).max(last).exactOptional();

export const SheetQuery = z.object({
  role: RoleName.default('keys'),
  level: LevelName.exactOptional().meta({ description: 'Missing: the level of the player' }),
  right: step(4).meta({ description: 'At the keys: the step of the right hand’s ladder' }),
  left: step(4).meta({ description: 'At the keys: the step of the left hand’s ladder' }),
  pedal: z.coerce.number().int().min(0).max(1).exactOptional(),
  pulse: z.coerce.number().int().min(0).max(1).exactOptional().meta({
    description:
      'At the keys: 1, the note that carries the tune again on each beat, for the singers',
  }),
  bass: step(3).meta({ description: 'At the bass: the step of its ladder' }),
  texture: step(6).meta({ description: 'At the keys: the fullest texture, by its place' }),
  key: KeyText.exactOptional().meta({ description: 'Missing: the key of the arrangement' }),
  density: Density.exactOptional(),
  player: Id.exactOptional().meta({
    description: 'A member; missing: the player of the arrangement',
  }),
  width: Width.default(1180),
  text: TextSize.default(1),
  verse: SungVerse,
  names: NamesOfNotes.default('english'),
  v: KnownVersion,
});
export type SheetQuery = z.infer<typeof SheetQuery>;

/** A page to play from, as `Sheets.of` in the music core makes it; its systems are drawings that share `glyphs`. */
export const SheetAnswer = z
  .custom<Sheet>((value) => typeof value === 'object' && value !== null)
  .meta({
    id: 'Sheet',
    type: 'object',
    description:
      'Heading, systems (svg, bars, margin, hand pictures), glyphs that the drawings share, summary, introduction, practice, remarks, cautions, credits',
  });
export type SheetAnswer = z.infer<typeof SheetAnswer>;

export const SongSystemsQuery = z.object({
  key: KeyText.exactOptional().meta({ description: 'Missing: the key of the song' }),
  width: Width.default(1180),
  text: TextSize.default(1),
  verse: Verse.default('all'),
  v: KnownVersion,
});
export type SongSystemsQuery = z.infer<typeof SongSystemsQuery>;

/** One line of engraved music, as one drawing. */
export const System = z
  .object({
    svg: z.string(),
    width: z.number().meta({ description: 'CSS pixels' }),
    height: z.number().meta({ description: 'CSS pixels' }),
    bars: z.array(z.int()).meta({ description: 'Numbers of its bars, in order; a pickup is 0' }),
    from: Place,
    to: Place,
  })
  .meta({ id: 'System' });
export type System = z.infer<typeof System>;

/** Melody, words and chords of a song in a key. */
export const SongSystems = z
  .object({
    songId: Id,
    key: KeyName,
    glyphs: z
      .string()
      .meta({ description: 'A hidden drawing that the page holds once: the outlines in use' }),
    systems: z.array(System),
  })
  .meta({ id: 'SongSystems' });
export type SongSystems = z.infer<typeof SongSystems>;

export const MusicXmlQuery = z.object({
  key: KeyText.exactOptional().meta({ description: 'Missing: the key of the song' }),
});
