import type { Author, Layer } from '../score/credits.ts';

export type { Author, Layer } from '../score/credits.ts';

/** What a team knows of a song beside its music, to find it and to sing it rightly. Plain JSON. */
export interface SongDetails {
  /** null: as the words begin. */
  readonly firstLine: string | null;
  /** null: as the syllables or the source give it. */
  readonly hymnMeter: string | null;
  readonly people: readonly Author[];
  readonly themes: readonly string[];
  /** As a person wrote them and `Scripture.read` takes them: `Psalm 23:1–6`. */
  readonly scripture: readonly string[];
  /** Of the words: a language tag (BCP 47), `en`; null: not said. */
  readonly language: string | null;
  /** One entry for each layer of which something is known. */
  readonly rights: readonly Rights[];
}

export interface Rights {
  readonly layer: Layer;
  readonly status: 'public domain' | 'protected' | 'our own' | 'not known';
  /** Who holds the rights. */
  readonly holder: string;
  /** The team's licence for it, as its number stands on the paper. */
  readonly licence: string;
  /** Why it is thought to be in the public domain; never empty where it is thought so. */
  readonly reason: string;
  /** Where that holds: `US`, `where protection ends 70 years after death`. */
  readonly where: string;
}

export const NO_DETAILS: SongDetails = {
  firstLine: null,
  hymnMeter: null,
  people: [],
  themes: [],
  scripture: [],
  language: null,
  rights: [],
};
