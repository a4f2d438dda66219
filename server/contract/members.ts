import { z } from 'zod';
import { DeletedAt, Id, LevelName, Pitch, RoleName, Version } from './music.ts';

/** Pitches as they sound, low first. That low is below high is checked by the server (`invalid-input`). */
export const VoiceRange = z.object({ low: Pitch, high: Pitch }).meta({ id: 'VoiceRange' });
export type VoiceRange = z.infer<typeof VoiceRange>;

const fields = {
  name: z.string().trim().min(1).max(80),
  roles: z.array(RoleName).max(7),
  level: LevelName,
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
  .object({ id: Id, ...fields, version: Version, deletedAt: DeletedAt })
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

export const NewMember = z
  .object({
    name: fields.name,
    roles: fields.roles.default([]),
    level: fields.level.default('beginner'),
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
    reach: fields.reach.exactOptional(),
    comfortable: fields.comfortable.exactOptional(),
    limit: fields.limit.exactOptional(),
    child: fields.child.exactOptional(),
  })
  .refine((change) => Object.keys(change).length > 0, { message: 'changes nothing' })
  .meta({ id: 'MemberChange' });
export type MemberChange = z.infer<typeof MemberChange>;
