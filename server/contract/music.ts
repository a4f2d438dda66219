import { QUARTER, type Key, type Level, type Role, type Score } from '#music';
import { z } from 'zod';

const ROLES = [
  'keys',
  'bass',
  'guitar',
  'drums',
  'lead voice',
  'harmony voice',
  'leader',
] as const satisfies readonly Role[];
const LEVELS = ['beginner', 'intermediate', 'advanced'] as const satisfies readonly Level[];
const MODES = [
  'major',
  'minor',
  'dorian',
  'phrygian',
  'lydian',
  'mixolydian',
  'locrian',
] as const satisfies readonly Key['mode'][];

export const RoleName = z.enum(ROLES).meta({ id: 'Role' });
export const LevelName = z.enum(LEVELS).meta({ id: 'Level' });
export const Density = z.enum(['bar', 'beat']).meta({ id: 'Density' });

/** `F#4`, `Bb3`: a letter, its accidentals in ASCII, its octave; C4 is middle C. */
export const Pitch = z
  .string()
  .regex(/^[A-G](#{0,2}|b{0,2})[0-8]$/)
  .meta({ id: 'Pitch', description: 'Scientific pitch name, ASCII: F#4, Bb3. C4 is middle C.' });

export const KeyName = z
  .object({
    tonic: z.string().regex(/^[A-G][#b]?$/),
    mode: z.enum(MODES),
  })
  .meta({ id: 'Key' });

/** Ticks, 20160 to the quarter note. */
export const Place = z.int().min(0).meta({
  id: 'Place',
  description: 'Time from the first note, in ticks: 20160 to the quarter note',
});

/** Whole to sixteenth, plain and dotted, in ticks. */
const COUNTED_NOTES = [4, 2, 1, 1 / 2, 1 / 4].flatMap((quarters) => [
  QUARTER * quarters,
  QUARTER * quarters * 1.5,
]);

/** Ticks as in `Score`. */
export const TempoMark = z
  .object({
    beat: z
      .literal(COUNTED_NOTES)
      .meta({ description: 'The counted note in ticks: whole to sixteenth, plain or dotted' }),
    perMinute: z.number().min(10).max(400),
  })
  .meta({ id: 'Tempo' });

/** The music itself crosses as the music core has it: plain JSON, described in `music/score/score.ts`. */
export const ScoreJson = z
  .custom<Score>((value) => typeof value === 'object' && value !== null)
  .meta({
    id: 'Score',
    type: 'object',
    description: 'A song as music: keys, meters, bars, every voice, words, chords, sections, form',
  });

/** Kept and hidden, or null. */
export const DeletedAt = z.iso.datetime().nullable();
export const Version = z.int().min(1).meta({
  id: 'Version',
  description:
    'Counts the changes. The ETag of the thing is "v<version>"; a change names it in If-Match.',
});
export const Id = z.string().min(1).max(40);
