import { z } from 'zod';
import {
  DeletedAt,
  Id,
  InstrumentsOfMember,
  KeyName,
  LevelName,
  LevelsByHand,
  Pitch,
  RoleName,
  Version,
} from './music.ts';

/** Pitches as they sound, low first. That low is below high is checked by the server (`invalid-input`). */
export const VoiceRange = z.object({ low: Pitch, high: Pitch }).meta({ id: 'VoiceRange' });
export type VoiceRange = z.infer<typeof VoiceRange>;

const fields = {
  name: z.string().trim().min(1).max(80),
  roles: z.array(RoleName).max(7),
  level: LevelName.meta({ description: 'The usual level' }),
  levels: LevelsByHand.meta({ description: 'Where a hand or a role has another' }),
  instruments: InstrumentsOfMember,
  reach: z
    .int()
    .min(5)
    .max(19)
    .meta({ description: 'The widest shape one hand takes, in semitones; an octave is 12' }),
  comfortable: VoiceRange.nullable(),
  limit: VoiceRange.nullable().meta({ description: 'The furthest notes; outside `comfortable`' }),
  child: z.boolean().meta({ description: 'A child: private wherever parts are shared' }),
};

export const Member = z
  .object({
    id: Id,
    ...fields,
    rangeMarkedAt: z.iso.datetime().nullable().meta({
      description: 'When the comfortable range was last marked; null: nobody noted it',
    }),
    version: Version,
    deletedAt: DeletedAt,
  })
  .meta({ id: 'Member' });
export type Member = z.infer<typeof Member>;

export const MemberList = z.object({ members: z.array(Member) }).meta({ id: 'MemberList' });
export type MemberList = z.infer<typeof MemberList>;

export const MemberListQuery = z.object({
  deleted: z
    .enum(['0', '1'])
    .default('0')
    .meta({ description: '1: the deleted members, who can be restored' }),
});

/** A step back brings an earlier range with its day, as if it had never been away. */
export const EarlierMark = z.iso.datetime().nullable().meta({
  description:
    'When the range in the same change was marked, where a step back brings an earlier one; never later than now. Missing: now',
});

export const NewMember = z
  .object({
    name: fields.name,
    roles: fields.roles.default([]),
    level: fields.level.default('beginner'),
    levels: fields.levels.default({}),
    instruments: fields.instruments.default({}),
    reach: fields.reach.default(12),
    comfortable: fields.comfortable.default(null),
    limit: fields.limit.default(null),
    child: fields.child.default(false),
  })
  .meta({ id: 'NewMember' });
export type NewMember = z.input<typeof NewMember>;

export const MemberChange = z
  .object({
    name: fields.name.exactOptional(),
    roles: fields.roles.exactOptional(),
    level: fields.level.exactOptional(),
    levels: fields.levels.exactOptional(),
    instruments: fields.instruments.exactOptional(),
    reach: fields.reach.exactOptional(),
    comfortable: fields.comfortable.exactOptional(),
    rangeMarkedAt: EarlierMark.exactOptional(),
    limit: fields.limit.exactOptional(),
    child: fields.child.exactOptional(),
  })
  .refine((change) => Object.keys(change).length > 0, { message: 'changes nothing' })
  .meta({ id: 'MemberChange' });
export type MemberChange = z.infer<typeof MemberChange>;

/** What a person has met at the keys in the services that are over. */
export const Known = z
  .object({
    member: Id,
    songs: z.array(
      z.object({
        id: Id,
        title: z.string(),
        keys: z.array(KeyName).meta({ description: 'Those it was done in, the latest first' }),
        times: z.int(),
        last: z.iso.date(),
      }),
    ),
    shapes: z.array(
      z.object({
        chord: z.string().meta({ description: '`B♭7/D`' }),
        notes: z.array(Pitch),
        fingers: z.array(z.int()),
        songs: z.int().meta({ description: 'In how many songs' }),
      }),
    ),
  })
  .meta({ id: 'Known' });
export type Known = z.infer<typeof Known>;

/** The shapes of one person's right hand in a service to come, in the order they come. */
export const ShapesAhead = z
  .object({
    member: Id,
    shapes: z.array(
      z.object({
        chord: z.string().meta({ description: '`B♭7/D`' }),
        notes: z.array(Pitch),
        fingers: z.array(z.int()),
        songs: z.array(Id).meta({ description: 'The items of the order that have it' }),
        known: z.boolean().meta({ description: 'Met before, in a service that is over' }),
      }),
    ),
  })
  .meta({ id: 'ShapesAhead' });
export type ShapesAhead = z.infer<typeof ShapesAhead>;
