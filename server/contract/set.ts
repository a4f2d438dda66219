import { z } from 'zod';
import { EarlierMark, VoiceRange } from './members.ts';
import { Id, KeyName, RoleName } from './music.ts';

export const LinkSecret = z
  .object({ secret: z.string().min(20).max(100) })
  .meta({ id: 'LinkSecret', description: 'The fragment of the link; answered with a cookie' });
export type LinkSecret = z.infer<typeof LinkSecret>;

/** Someone of the service as those who hold its link see them. */
export const SetPerson = z
  .object({
    id: Id,
    name: z.string().meta({ description: 'Of a child: what they do, not who they are' }),
    roles: z.array(RoleName),
    marks: z.boolean().meta({ description: 'Whether their comfortable range may be marked here' }),
    comfortable: VoiceRange.nullable().meta({
      description: 'Only where it may be marked here; null: not known, or not said',
    }),
    rangeMarkedAt: z.iso.datetime().nullable().meta({
      description: 'When it was marked, only where it may be marked here; null: nobody noted it',
    }),
    voiceThisWeek: z.boolean().meta({
      description: 'Whether the leader set another range for this service, which counts before it',
    }),
  })
  .meta({ id: 'SetPerson' });
export type SetPerson = z.infer<typeof SetPerson>;

/** What a set link opens: the service, and whose pages there are. */
export const SetView = z
  .object({
    team: z.string(),
    title: z.string(),
    date: z.iso.date(),
    time: z.string(),
    zone: z.string(),
    place: z.string(),
    startsAt: z.iso.datetime(),
    endsAt: z.iso.datetime().meta({ description: 'When the link ends' }),
    items: z.array(
      z.object({
        id: Id,
        kind: z.enum(['song', 'reading', 'prayer', 'talk', 'other']),
        title: z.string(),
        minutes: z.int().nullable(),
        key: KeyName.nullable(),
        lead: z.string().nullable().meta({ description: 'The name, as in `people`' }),
      }),
    ),
    people: z.array(SetPerson),
  })
  .meta({ id: 'SetView' });
export type SetView = z.infer<typeof SetView>;

export const MarkedRange = z
  .object({
    comfortable: VoiceRange.nullable().meta({ description: 'null: takes the mark back' }),
    rangeMarkedAt: EarlierMark.exactOptional(),
  })
  .meta({ id: 'MarkedRange' });
export type MarkedRange = z.infer<typeof MarkedRange>;
