import { z } from 'zod';

/** At least 15 characters where it is the only lock (NIST SP 800-63B-4, 3.1.1.2); long enough for a sentence. */
const Passphrase = z.string().min(15).max(200);

/** How the leader's side stands to whoever asks. */
export const Access = z
  .object({
    passphrase: z.boolean().meta({ description: 'Whether one is set' }),
    may: z.boolean().meta({ description: 'Whether the leader’s side is open to this browser' }),
    here: z.boolean().meta({ description: 'Whether the browser is on the machine of the server' }),
  })
  .meta({ id: 'Access' });
export type Access = z.infer<typeof Access>;

export const SignIn = z.object({ passphrase: z.string().min(1).max(200) }).meta({ id: 'SignIn' });
export type SignIn = z.infer<typeof SignIn>;

/** `current` is needed where one is set. `passphrase` null: none from now on; open on this machine again. */
export const PassphraseChange = z
  .object({
    passphrase: Passphrase.nullable(),
    current: z.string().max(200).exactOptional(),
  })
  .meta({ id: 'PassphraseChange' });
export type PassphraseChange = z.infer<typeof PassphraseChange>;
