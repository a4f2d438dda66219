import { z } from 'zod';
import { PagesQuery } from './pages.ts';
import { ProblemDetails } from './problems.ts';

export const PacketQuery = z.object({
  paper: z.enum(['A4', 'Letter']).default('A4'),
  print: z
    .enum(['usual', 'large'])
    .default('usual')
    .meta({ description: 'Large print is laid out anew: larger letters, fewer bars a line' }),
  names: PagesQuery.shape.names,
  verse: PagesQuery.shape.verse,
  played: PagesQuery.shape.played,
});
export type PacketQuery = z.infer<typeof PacketQuery>;

/** Everybody’s packets: each verse and key is as it was planned. */
export const PacketsQuery = PacketQuery.pick({ paper: true, print: true, names: true });
export type PacketsQuery = z.infer<typeof PacketsQuery>;

/**
 * A row of what is said while packets are made: how far it is, at last that they can be fetched, or why not. Whoever
 * closes the connection stops it, unless somebody else waits for the same.
 */
export const PacketRow = z
  .union([
    z.object({
      done: z.int().min(0).meta({ description: 'Songs that are engraved and packets that are bound' }),
      of: z.int().min(0),
    }),
    z.object({
      bytes: z.int().meta({ description: 'It can be fetched under the same address, and is this large' }),
    }),
    z.object({ problem: ProblemDetails }),
  ])
  .meta({ id: 'PacketRow' }); // prettier-ignore
export type PacketRow = z.infer<typeof PacketRow>;
