import { z } from 'zod';
import { Id, KeyName } from './music.ts';

export const YearQuery = z.object({
  until: z.iso
    .date()
    .exactOptional()
    .meta({ description: 'The last day that counts; missing: today, on the clocks of UTC' }),
});
export type YearQuery = z.infer<typeof YearQuery>;

/** What was sung in 52 weeks, song by song: the longest rested first. */
export const SongYear = z
  .object({
    from: z.iso.date(),
    until: z.iso.date(),
    songs: z.array(
      z.object({
        id: Id,
        title: z.string(),
        sung: z
          .array(
            z.object({
              service: Id,
              title: z.string().meta({ description: 'What the service is called' }),
              date: z.iso.date(),
              key: KeyName.meta({ description: 'The key it sounded in' }),
              lead: z.object({ id: Id, name: z.string() }).nullable(),
            }),
          )
          .meta({ description: 'The latest first' }),
      }),
    ),
  })
  .meta({ id: 'SongYear' });
export type SongYear = z.infer<typeof SongYear>;
