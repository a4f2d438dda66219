import { z } from 'zod';
import { GUIDELINE_IDS, ROOM_GROUP_IDS } from '#music';
import { VoiceRange } from './members.ts';
import { Id, Version } from './music.ts';

const DemoState = z
  .enum(['offered', 'kept', 'cleared'])
  .meta({ id: 'DemoState', description: 'What became of the demo that a team begins with' });

/** How the congregation sings: by a published guideline, or a range of one's own as it is printed. */
export const CongregationVoice = z
  .union([z.enum(GUIDELINE_IDS), VoiceRange])
  .meta({ id: 'CongregationVoice' });
export type CongregationVoice = z.infer<typeof CongregationVoice>;

/** How many people of each group are in the room; only the ratio counts. */
export const RoomShares = z
  .partialRecord(z.enum(ROOM_GROUP_IDS), z.int().min(0).max(10_000))
  .meta({ id: 'RoomShares' });
export type RoomShares = z.infer<typeof RoomShares>;

const voices = {
  congregation: CongregationVoice.nullable().meta({ description: 'null: the usual guideline' }),
  room: RoomShares.nullable().meta({ description: 'null: the usual shares' }),
};

const name = z.string().trim().min(1).max(80);

export const Team = z
  .object({
    id: Id,
    name: z.string(),
    demo: DemoState.nullable().meta({ description: 'null: this team began without one' }),
    ...voices,
    version: Version,
  })
  .meta({ id: 'Team' });
export type Team = z.infer<typeof Team>;

/** Clearing the demo hides all of it in one step; `offered` or `kept` brings it back. */
export const TeamChange = z
  .object({
    name: name.exactOptional(),
    demo: DemoState.exactOptional(),
    congregation: voices.congregation.exactOptional(),
    room: voices.room.exactOptional(),
  })
  .refine((change) => Object.keys(change).length > 0, { message: 'changes nothing' })
  .meta({ id: 'TeamChange' });
export type TeamChange = z.infer<typeof TeamChange>;

export const Health = z.object({ status: z.literal('ok') }).meta({ id: 'Health' });
export type Health = z.infer<typeof Health>;
