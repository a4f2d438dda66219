import { z } from 'zod';
import { Id, Version } from './music.ts';

export const KeyFitQuery = z.object({
  singers: z
    .string()
    .regex(/^[\w-]+(,[\w-]+)*$/, 'must be ids of members, with commas between')
    .exactOptional()
    .meta({
      description: 'Ids of members, with commas between; missing: the singers of the arrangement',
    }),
});

/** The same table that `#music` makes on the tablet (`KeyFit.table`); rows as described there. */
export const KeyFitAnswer = z
  .object({
    songId: Id,
    songVersion: Version,
    singers: z.array(Id),
    table: z.custom<unknown>().meta({ id: 'KeyFitTable', type: 'object' }),
  })
  .meta({ id: 'KeyFit' });
export type KeyFitAnswer = z.infer<typeof KeyFitAnswer>;
