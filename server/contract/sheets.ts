import { z } from 'zod';
import { Density, Id, KeyName, LevelName, Place, RoleName } from './music.ts';

const KeyText = z
  .string()
  .min(1)
  .max(20)
  .meta({ description: 'A key as people write it: F, Bb, F# minor, E dorian' });

const Width = z.coerce
  .number()
  .int()
  .min(320)
  .max(2560)
  .meta({ description: 'Width of the page in CSS pixels' });

const KnownVersion = z.coerce
  .number()
  .int()
  .exactOptional()
  .meta({
    description: 'The version that is asked about; makes the address of each version its own',
  });

const TextSize = z.coerce
  .number()
  .min(0.75)
  .max(2)
  .meta({ description: 'Size of the words and notes against the usual' });

export const SheetQuery = z.object({
  role: RoleName.default('keys'),
  level: LevelName.exactOptional().meta({ description: 'Missing: the level of the player' }),
  key: KeyText.exactOptional(),
  density: Density.exactOptional(),
  player: Id.exactOptional().meta({
    description: 'A member; missing: the player of the arrangement',
  }),
  width: Width.default(1180),
  text: TextSize.default(1),
  v: KnownVersion,
});
export type SheetQuery = z.infer<typeof SheetQuery>;

export const SongSystemsQuery = z.object({
  key: KeyText.exactOptional(),
  width: Width.default(1180),
  text: TextSize.default(1),
  v: KnownVersion,
});
export type SongSystemsQuery = z.infer<typeof SongSystemsQuery>;

/** One line of engraved music, as one picture. */
export const System = z
  .object({
    svg: z.string(),
    bars: z.array(z.int()).meta({ description: 'Numbers of its bars, in order' }),
    from: Place,
    to: Place,
  })
  .meta({ id: 'System' });
export type System = z.infer<typeof System>;

/** Melody, words and chords of a song in a key. */
export const SongSystems = z
  .object({ songId: Id, key: KeyName, systems: z.array(System) })
  .meta({ id: 'SongSystems' });
export type SongSystems = z.infer<typeof SongSystems>;
