import { z } from 'zod';
import { FileQuery } from './library.ts';
import { PagesQuery } from './pages.ts';
import { SheetQuery } from './sheets.ts';

/** A part is to practise with, so its MIDI plays the whole song where nothing else is asked. */
const played = {
  ...FileQuery.pick({ countIn: true, click: true }).shape,
  passes: z.enum(['once', 'form']).default('form').meta({
    description: 'MIDI: all passes with repeats and endings, or once through as it is printed',
  }),
};

export const PART_FILE_KINDS = ['musicxml', 'mxl', 'midi'] as const;
export type PartFileKind = (typeof PART_FILE_KINDS)[number];

/** One part of a song as a file: asked for as its sheet is. */
export const PartFileQuery = z.object({
  ...SheetQuery.omit({ width: true, text: true, verse: true }).shape,
  as: z.enum(PART_FILE_KINDS).default('musicxml'),
  ...played,
});
export type PartFileQuery = z.output<typeof PartFileQuery>;

/** All parts of a person for a service, in one zip. */
export const PersonFilesQuery = z.object({
  as: z.enum(PART_FILE_KINDS).exactOptional().meta({ description: 'Missing: MusicXML and MIDI' }),
  played: PagesQuery.shape.played,
  ...played,
});
export type PersonFilesQuery = z.output<typeof PersonFilesQuery>;
