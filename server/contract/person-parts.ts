import type { Part, Problem } from '#music';
import { z } from 'zod';
import { Page, PagesQuery, PersonPages } from './pages.ts';

/** What decides the notes of a person's pages, not how they are laid out. */
export const PartsQuery = PagesQuery.pick({ names: true, played: true });
export type PartsQuery = z.infer<typeof PartsQuery>;

const [Staff, ...Others] = Page.options;
const isObject = (value: unknown): boolean => typeof value === 'object' && value !== null;

/** A page of notes before it is engraved: all that `Sheets.request` and `Sheets.of` in the music core are given. */
export const PartPage = Staff.omit({ kind: true, sheet: true })
  .extend({
    kind: z.literal('part'),
    player: z.object({ name: z.string() }),
    part: z.custom<Part>(isObject).meta({ description: 'As `Parts.build` makes it' }),
    remarks: z.custom<readonly Problem[]>(Array.isArray).meta({
      description: 'What the part could not do whole, and does instead',
    }),
  })
  .meta({ id: 'PartPage' });
export type PartPage = z.infer<typeof PartPage>;

/** A page that needs no engraver. */
export type PlainPage = Exclude<Page, { readonly kind: 'staff' }>;

/** The pages of a person with the parts in place of what is engraved from them. */
export const PersonParts = PersonPages.omit({ pages: true })
  .extend({ pages: z.array(z.discriminatedUnion('kind', [PartPage, ...Others])) })
  .meta({ id: 'PersonParts' });
export type PersonParts = z.infer<typeof PersonParts>;
