import {
  NoteNames,
  ENDINGS,
  MOST_UP,
  QUARTER,
  TEXTURES,
  type Instruments,
  type Key,
  type Level,
  type Levels,
  type OwnRungs as Own,
  type Role,
  type Score,
} from '#music';
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
export const NamesOfNotes = z.enum(NoteNames.NOTE_NAMES).meta({
  id: 'NoteNames',
  description:
    'What notes are called in words and chord symbols: `german` has H and B, `solfege` a fixed do; `numbers` are chord symbols in the key of the page',
});
export const Density = z.enum(['bar', 'half bar', 'beat', 'alone']).meta({
  id: 'Density',
  description:
    'How often chords change that were found in the voices: every change (`beat`), one or two a bar (`half bar`), a ' +
    'beginner’s (`bar`); each leaves changes out of the one before. `alone`: one a bar, reharmonised',
});

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

export const Id = z.string().min(1).max(40);

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

/** One time through a section, as it is arranged. */
export const ArrangedPass = z
  .object({
    section: z.string().min(1).max(80).meta({ description: 'Id of a section of the song' }),
    verse: z.int().min(1).max(99).nullable(),
    texture: z
      .enum(TEXTURES)
      .exactOptional()
      .meta({ description: 'How the pass is played; missing: held' }),
    ending: z
      .enum(ENDINGS)
      .exactOptional()
      .meta({ description: 'How its last phrase ends it; missing: as it is played' }),
    up: z.int().min(-MOST_UP).max(MOST_UP).exactOptional().meta({
      description: 'Half steps above the key of the song; below zero: below it; missing: in it',
    }),
    unison: z.literal(true).exactOptional().meta({
      description: 'Everybody sings the tune, harmony voices too; missing: in parts',
    }),
    lead: Id.exactOptional().meta({
      description: 'The member who leads the singing of this pass; missing: who leads the song',
    }),
  })
  .meta({ id: 'Pass' });
export type ArrangedPass = z.infer<typeof ArrangedPass>;

/** The passes in the order they are played. Repeats bloat a sheet and not a life: sixty are enough. */
export const ArrangedForm = z.array(ArrangedPass).min(1).max(60);

/** Where a hand or a role has another level than the usual one. */
export const LevelsByHand = z
  .object({
    'right hand': LevelName.exactOptional(),
    'left hand': LevelName.exactOptional(),
    pedal: LevelName.exactOptional(),
    bass: LevelName.exactOptional(),
    guitar: LevelName.exactOptional(),
    drums: LevelName.exactOptional(),
    voice: LevelName.exactOptional(),
  })
  .meta({ id: 'Levels' }) satisfies z.ZodType<Levels>;

const steps = {
  right: z.literal([1, 2, 3, 4]).exactOptional().meta({
    description:
      'Right hand: 1 nearest shapes, held; 2 in the texture of the pass; 3 the tune on top where it can be; 4 fuller and open, with fills',
  }),
  left: z.literal([1, 2, 3, 4]).exactOptional().meta({
    description:
      'Left hand: 1 roots, held; 2 octaves together; 3 octaves in turn; 4 root, fifth and octave, with steps into the next chord',
  }),
  pedal: z
    .literal([0, 1])
    .exactOptional()
    .meta({ description: '1: one pedal a chord, changed just after it sounds' }),
  texture: z
    .literal([1, 2, 3, 4, 5, 6])
    .exactOptional()
    .meta({ description: 'The fullest texture, by its place from held (1) to broken (6)' }),
  pulse: z.boolean().exactOptional().meta({
    description:
      'Right hand: the note that carries the tune again on each beat, softly, for the singers',
  }),
  bass: z.literal([1, 2, 3]).exactOptional().meta({
    description:
      'At the bass: 1 the note of each chord; 2 with fifths and steps; 3 walking where the pass is full',
  }),
};

/** Steps of the ladders at the keys and the bass, where somebody plays others than their levels say. */
export const OwnRungs = z
  .object({
    ...steps,
    sections: z
      .record(z.string().min(1).max(80), z.object(steps))
      .exactOptional()
      .meta({ description: 'By section of the song, where it is played otherwise still' }),
  })
  .meta({ id: 'OwnRungs' }) satisfies z.ZodType<Own>;
export type OwnRungs = z.infer<typeof OwnRungs>;

export const InstrumentsOfMember = z
  .object({
    transposeButton: z
      .boolean()
      .exactOptional()
      .meta({ description: 'The keyboard can sound in another key than it is played in' }),
    bassStrings: z
      .literal([4, 5])
      .exactOptional()
      .meta({ description: 'Strings of the bass; missing: 4, the lowest E1; 5 goes down to B0' }),
    capo: z
      .literal([0, 5, 7])
      .exactOptional()
      .meta({ description: 'The highest fret for a capo; missing: 5; 0: no capo' }),
  })
  .meta({ id: 'Instruments' }) satisfies z.ZodType<Instruments>;

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
