import { z } from 'zod';
import { ArrangedForm, Density, Id, KeyName, TempoMark, Version } from './music.ts';

/** How this team usually does the song. Made from the song itself when it is first asked for. */
export const Arrangement = z
  .object({
    id: Id,
    songId: Id,
    version: Version,
    key: KeyName.meta({
      description: 'The usual key of this team; the home key is the song’s own',
    }),
    tempo: TempoMark.nullable().meta({ description: 'null: as the song has it' }),
    density: Density,
    form: ArrangedForm.nullable().meta({
      description: 'The passes and how each is played; null: as the song has them, held',
    }),
    lead: Id.nullable().meta({ description: 'The member who leads the singing' }),
    singers: z
      .array(Id)
      .meta({ description: 'The members whose voices must fit, the lead included' }),
    player: Id.nullable().meta({ description: 'The member at the keys' }),
  })
  .meta({ id: 'Arrangement' });
export type Arrangement = z.infer<typeof Arrangement>;

export const ArrangementChange = z
  .object({
    key: KeyName.exactOptional(),
    tempo: TempoMark.nullable().exactOptional(),
    density: Density.exactOptional(),
    form: ArrangedForm.nullable().exactOptional(),
    lead: Id.nullable().exactOptional(),
    singers: z.array(Id).max(40).exactOptional(),
    player: Id.nullable().exactOptional(),
  })
  .refine((change) => Object.keys(change).length > 0, { message: 'changes nothing' })
  .meta({ id: 'ArrangementChange' });
export type ArrangementChange = z.infer<typeof ArrangementChange>;
