import { NotedDetails, Scripture, type Author, type Layer, type Rights } from '#music';

export const LAYERS: readonly Layer[] = ['words', 'translation', 'tune', 'arrangement'];

/** What someone did, by the layer of the song. */
export const MADE: Readonly<Record<Layer, string>> = {
  words: 'words',
  translation: 'translation',
  tune: 'tune',
  arrangement: 'arrangement',
};

/** A name as it is typed, in one line. */
export const plain = (text: string): string => text.trim().replaceAll(/\s+/g, ' ');

/** `evening, trust` as a list, each once. */
export const themesIn = (text: string): string[] => NotedDetails.themesIn(text);

export interface TypedPlaces {
  readonly places: readonly string[];
  /** What is wrong with the first that is not in the Bible; null: all are. */
  readonly problem: string | null;
}

/** `Psalm 23; John 10:11–16` as a list, and what is wrong with it. */
export function placesIn(text: string): TypedPlaces {
  const places = NotedDetails.placesIn(text);
  const wrong = places.map((place) => Scripture.read(place)).find((read) => !read.ok);
  return { places, problem: wrong && !wrong.ok ? (wrong.problems[0]?.message ?? null) : null };
}

/** A year as typed; null: none, undefined: that is no year. */
export function yearIn(text: string): number | null | undefined {
  const typed = text.trim();
  if (typed === '') return null;
  const year = Number(typed);
  return /^\d{1,4}$/.test(typed) && year >= 1 && year <= 2200 ? year : undefined;
}

/** Why a line about a person cannot be kept yet; null: it can. */
export function authorProblem({ name, born, died }: Author): string | null {
  if (name.trim() === '') return 'Who was it? Write the name, or take the line out.';
  if (born !== null && died !== null && died < born)
    return `${name} cannot have died in ${died}, before ${born}.`;
  return null;
}

/** Why what is said of the rights cannot be kept yet; null: it can. */
export function rightsProblem({ layer, status, reason }: Rights): string | null {
  if (status !== 'public domain' || reason.trim() !== '') return null;
  const are = layer === 'words' ? 'are' : 'is';
  return `Say why the ${layer} ${are} thought to be in the public domain: the year of the first printing, or when its author died.`;
}

/** The name of a language by its tag: `en` is English; null: that is no tag (BCP 47). */
export function languageName(tag: string): string | null {
  try {
    const [canonical] = Intl.getCanonicalLocales(tag);
    if (canonical === undefined) return null;
    return (
      new Intl.DisplayNames('en', { type: 'language', fallback: 'none' }).of(canonical) ?? null
    );
  } catch {
    return null;
  }
}

export const nobody = (layer: Layer): Author => ({
  layer,
  name: '',
  born: null,
  died: null,
  year: null,
});

export const nothingSaid = (layer: Layer): Rights => ({
  layer,
  status: 'not known',
  holder: '',
  licence: '',
  reason: '',
  where: '',
});
