import { z } from 'zod';
import { Id, Version } from './music.ts';

export const Team = z.object({ id: Id, name: z.string(), version: Version }).meta({ id: 'Team' });
export type Team = z.infer<typeof Team>;

export const Health = z.object({ status: z.literal('ok') }).meta({ id: 'Health' });
export type Health = z.infer<typeof Health>;
