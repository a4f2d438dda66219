import { z } from 'zod';
import { SongDetails } from '../contract/library.ts';
import { NewMember, VoiceRange } from '../contract/members.ts';
import { ArrangedPass, RoleName } from '../contract/music.ts';

/** A file in `seed-data/hymns`, or with a folder before it one in `seed-data`. */
const File = z.string().regex(/^([\w-]+\/)?[\w-]+\.abc$/);
/** The tonic; the mode is the song's own. */
const Tonic = z.string().regex(/^[A-G][#b]?$/);

/** As it is arranged, except that `lead` is a name of `members`. */
const Form = z.array(ArrangedPass.extend({ lead: z.string().exactOptional() })).min(1);
export type SeedForm = z.output<typeof Form>;

/** People are named as in `members`; what is missing is as `usually` has it, or as the song has it. */
const SeedSong = z.strictObject({
  file: File,
  key: Tonic.optional(),
  lead: z.string().optional(),
  singers: z.array(z.string()).optional(),
  player: z.string().optional(),
  form: Form.optional(),
  details: SongDetails.optional(),
});
export type SeedSong = z.output<typeof SeedSong>;

const SeedItem = z.union([
  z.strictObject({
    song: File,
    key: Tonic.optional(),
    lead: z.string().optional(),
    form: Form.optional(),
    playedIn: z.record(z.string(), Tonic).default({}),
    note: z.string().default(''),
  }),
  z.strictObject({
    kind: z.enum(['reading', 'prayer', 'talk', 'other']),
    title: z.string(),
    minutes: z.int().nullable().default(null),
    note: z.string().default(''),
  }),
]);
export type SeedItem = z.output<typeof SeedItem>;

const SeedService = z.strictObject({
  title: z.string().optional(),
  /** 1: the next Sunday after today; -1: the last one before today; never today itself. */
  weeks: z.int().refine((weeks) => weeks !== 0, 'is no Sunday before or after today'),
  time: z.string().optional(),
  place: z.string().optional(),
  people: z.array(
    z.strictObject({
      name: z.string(),
      roles: z.array(RoleName),
      /** Where the voice sits that week, if it is not where it usually does. */
      voice: VoiceRange.nullable().default(null),
    }),
  ),
  items: z.array(SeedItem),
});
export type SeedService = z.output<typeof SeedService>;

/** `seed-data/team.json`: an invented team and what it begins with. */
export const SeedTeam = z.strictObject({
  name: z.string(),
  /** All that stands here is a demo, which can be cleared in one step. */
  demo: z.boolean().default(false),
  members: z.array(NewMember),
  songs: z.array(z.union([File.transform((file): SeedSong => ({ file })), SeedSong])),
  /** Who plays, who leads the singing, who sings, where a song does not say it. */
  usually: z.strictObject({
    player: z.string(),
    lead: z.string(),
    singers: z.array(z.string()),
  }),
  services: z.array(SeedService).default([]),
});
export type SeedTeam = z.output<typeof SeedTeam>;
