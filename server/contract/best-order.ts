import { z } from 'zod';
import type { BestOrder, ServicePlan } from '#music';
import { Id, Version } from './music.ts';

const Songs = z.int().min(0).max(100);

/** What stays of a line, whatever else is chosen. */
export const LinePins = z
  .object({
    place: z.boolean().exactOptional(),
    key: z.boolean().exactOptional(),
    lead: z.boolean().exactOptional(),
  })
  .meta({ id: 'LinePins' });
export type LinePins = z.infer<typeof LinePins>;

export const BestOrderQuestion = z
  .object({
    order: z
      .enum(['kept', 'free'])
      .default('kept')
      .meta({ description: 'free: songs may change places; what is no song stays where it is' }),
    most: z
      .union([Songs, z.record(Id, Songs)])
      .nullable()
      .default(null)
      .meta({
        description: 'How many songs one lead takes at most: for all, or by member; null: any',
      }),
    shape: z.array(z.number().min(0).max(5)).max(100).nullable().default(null).meta({
      description: 'How full each place of a song is wished: 0 quiet to 5 full; null: no wish',
    }),
    pins: z.record(Id, LinePins).default({}).meta({ description: 'By line of the order' }),
  })
  .meta({ id: 'BestOrderQuestion' });
export type BestOrderQuestion = z.input<typeof BestOrderQuestion>;
export type BestOrderQuestionRead = z.output<typeof BestOrderQuestion>;

const isObject = (value: unknown): boolean => typeof value === 'object' && value !== null;

/** The same as `#music` makes: `ServiceOrder.best`. */
export const BestOrderAnswer = z
  .object({
    service: Id,
    serviceVersion: Version.meta({ description: 'The version of the service that was weighed' }),
    plans: z.array(
      z.custom<ServicePlan>(isObject).meta({
        id: 'ServicePlan',
        type: 'object',
        description:
          'All lines in their order; each song with key, lead, what it costs in words and points, and what changes',
      }),
    ),
    proof: z
      .custom<BestOrder['proof']>(isObject)
      .meta({ type: 'object', description: 'Whether no plan is better, or the gap that is left' }),
    problems: z.array(z.string()).meta({ description: 'What a leader should know, in sentences' }),
    player: z.string().nullable().meta({ description: 'Whose hands were weighed; null: nobody’s' }),
    prices: z.array(z.object({ words: z.string(), points: z.string() })).meta({
      description: 'What everything costs, to print beside the plans',
    }),
  })
  .meta({ id: 'BestOrder', description: 'The best plan first, and the next ones' });
export type BestOrderAnswer = z.infer<typeof BestOrderAnswer>;
