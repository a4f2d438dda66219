import type { OrderSheet, PlayedKey, Sheet, WordsSheet } from '#music';
import { z } from 'zod';
import { Id, NamesOfNotes, RoleName } from './music.ts';
import { SungVerse, TextSize, Width } from './sheets.ts';

export const PagesQuery = z.object({
  width: Width.default(1180),
  text: TextSize.default(1),
  verse: SungVerse,
  names: NamesOfNotes.default('english'),
  played: z
    .string()
    .regex(/^[\w-]+\.[A-G][#b]?(,[\w-]+\.[A-G][#b]?)*$/)
    .exactOptional()
    .meta({
      description:
        'Items that are read in another key than the plan has it, by transpose button or capo: `item.C,item.G`',
    }),
});
export type PagesQuery = z.infer<typeof PagesQuery>;

const isObject = (value: unknown): boolean => typeof value === 'object' && value !== null;

const place = {
  item: Id.nullable().meta({ description: 'The line of the order; null: the service as a whole' }),
  title: z.string(),
  role: RoleName,
};

const Played = z
  .custom<PlayedKey | null>((value) => value === null || isObject(value))
  .meta({
    id: 'PlayedKey',
    description: 'The key it is read in, the key it sounds in, and how; null: they are the same',
  });

const Offer = z.custom<PlayedKey>(isObject).meta({
  description:
    'A key that is easier for this person to read, where nobody chose one; missing: none',
});

/** One sheet of a person. A song that cannot be written out as notes comes as words with chords and says why. */
export const Page = z
  .discriminatedUnion('kind', [
    z.object({
      kind: z.literal('staff'),
      ...place,
      played: Played,
      offer: Offer.exactOptional(),
      sheet: z
        .custom<Sheet>(isObject)
        .meta({ description: 'As `Sheets.of` in the music core makes it' }),
    }),
    z.object({
      kind: z.literal('words'),
      ...place,
      played: Played,
      offer: Offer.exactOptional(),
      sheet: z
        .custom<WordsSheet>(isObject)
        .meta({ description: 'As `WordsSheets.of` in the music core makes it' }),
    }),
    z.object({
      kind: z.literal('order'),
      ...place,
      sheet: z
        .custom<OrderSheet>(isObject)
        .meta({ description: 'As `OrderSheets.of` in the music core makes it' }),
    }),
    z.object({
      kind: z.literal('none'),
      ...place,
      reason: z.string().meta({ description: 'Why there is no sheet' }),
    }),
  ])
  .meta({ id: 'Page' });
export type Page = z.infer<typeof Page>;

/** Everything that one person opens or prints for a service, in order. */
export const PersonPages = z
  .object({
    service: z.object({
      title: z.string(),
      date: z.iso.date(),
      time: z.string(),
      zone: z.string(),
      place: z.string(),
    }),
    person: z.object({
      id: Id,
      name: z.string(),
      roles: z.array(RoleName),
    }),
    reads: z.record(Id, z.array(z.string())).meta({
      description: 'By item: the tonics this person can read it in, the sounding one first',
    }),
    pages: z.array(Page),
  })
  .meta({ id: 'PersonPages' });
export type PersonPages = z.infer<typeof PersonPages>;
