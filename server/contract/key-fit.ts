import { GUIDELINE_IDS, type KeyFitFront, type KeyFitTable } from '#music';
import { z } from 'zod';
import { Id, Version } from './music.ts';
import { CongregationVoice } from './team.ts';

export const KeyFitQuery = z.object({
  singers: z
    .string()
    .regex(/^[\w-]+(,[\w-]+)*$/)
    .exactOptional()
    .meta({
      description: 'Ids of members, with commas between; missing: the singers of the arrangement',
    }),
  congregation: z
    .enum(['none', ...GUIDELINE_IDS])
    .exactOptional()
    .meta({
      description:
        'The guideline that the room’s range is taken from; none: it does not count; missing: as the team has it',
    }),
});
export type KeyFitQuery = z.infer<typeof KeyFitQuery>;

const isObject = (value: unknown): boolean => typeof value === 'object' && value !== null;

/** The same as `#music` makes on the tablet: `KeyFit.table` and `KeyFit.front`. */
export const KeyFitAnswer = z
  .object({
    songId: Id,
    songVersion: Version,
    singers: z.array(Id).meta({ description: 'Whose voices are in the table' }),
    congregation: CongregationVoice.nullable().meta({
      description: 'Whose the voice `congregation` in the table is; null: it does not count',
    }),
    withoutRange: z.array(Id).meta({ description: 'Members whose range is not known yet' }),
    table: z.custom<KeyFitTable>(isObject).meta({
      id: 'KeyFitTable',
      type: 'object',
      description: 'A row for each key and voice: where the tune lies, the verdict and its reason',
    }),
    front: z.custom<KeyFitFront>(isObject).nullable().meta({
      id: 'KeyFitFront',
      description: 'The keys that leave the lead comfortable, with their costs; null: no lead',
    }),
  })
  .meta({ id: 'KeyFit' });
export type KeyFitAnswer = z.infer<typeof KeyFitAnswer>;
