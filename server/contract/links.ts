import { z } from 'zod';
import { Id, Version } from './music.ts';

/** A secret address that opens one service without an account. */
export const SetLink = z
  .object({
    id: Id,
    service: Id,
    state: z.enum(['open', 'ended', 'revoked']),
    marksRanges: z
      .boolean()
      .meta({ description: 'Whether those who hold it may mark their comfortable range' }),
    endsAt: z.iso.datetime(),
    createdAt: z.iso.datetime(),
    version: Version,
  })
  .meta({ id: 'SetLink' });
export type SetLink = z.infer<typeof SetLink>;

export const SetLinkList = z.object({ links: z.array(SetLink) }).meta({ id: 'SetLinkList' });
export type SetLinkList = z.infer<typeof SetLinkList>;

export const NewSetLink = z
  .object({
    marksRanges: z.boolean().default(false),
    endsAt: z.iso
      .datetime()
      .exactOptional()
      .meta({ description: 'Missing: the end of the day after the service, where it takes place' }),
  })
  .meta({ id: 'NewSetLink' });
export type NewSetLink = z.input<typeof NewSetLink>;

/** The only time that the secret is said: what is kept is its hash. */
export const MadeSetLink = z
  .object({
    link: SetLink,
    secret: z.string().meta({ description: '256 bits of chance, base64url' }),
    path: z.string().meta({ description: 'Address within the app, the secret in its fragment' }),
  })
  .meta({ id: 'MadeSetLink' });
export type MadeSetLink = z.infer<typeof MadeSetLink>;

export const SetLinkChange = z
  .object({
    marksRanges: z.boolean().exactOptional(),
    endsAt: z.iso.datetime().exactOptional(),
    revoked: z
      .boolean()
      .exactOptional()
      .meta({ description: 'true: it opens nothing from now on; false: it does again' }),
  })
  .refine((change) => Object.keys(change).length > 0, { message: 'changes nothing' })
  .meta({ id: 'SetLinkChange' });
export type SetLinkChange = z.infer<typeof SetLinkChange>;

/** Where a telephone can find this app. */
export const Addresses = z
  .object({
    origins: z.array(z.string()).meta({
      description: 'The likeliest first: http://192.168.1.20:3000; empty: only this machine',
    }),
  })
  .meta({ id: 'Addresses' });
export type Addresses = z.infer<typeof Addresses>;
