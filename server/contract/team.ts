import { z } from 'zod';
import { Id, Version } from './music.ts';

const DemoState = z
  .enum(['offered', 'kept', 'cleared'])
  .meta({ id: 'DemoState', description: 'What became of the demo that a team begins with' });

const name = z.string().trim().min(1).max(80);

export const Team = z
  .object({
    id: Id,
    name: z.string(),
    demo: DemoState.nullable().meta({ description: 'null: this team began without one' }),
    version: Version,
  })
  .meta({ id: 'Team' });
export type Team = z.infer<typeof Team>;

/** Clearing the demo hides all of it in one step; `offered` or `kept` brings it back. */
export const TeamChange = z
  .object({ name: name.exactOptional(), demo: DemoState.exactOptional() })
  .refine((change) => Object.keys(change).length > 0, { message: 'changes nothing' })
  .meta({ id: 'TeamChange' });
export type TeamChange = z.infer<typeof TeamChange>;

export const Health = z.object({ status: z.literal('ok') }).meta({ id: 'Health' });
export type Health = z.infer<typeof Health>;
