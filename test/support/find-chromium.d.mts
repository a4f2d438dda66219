/** The browser to test in: the variable CHROMIUM, else the first of the usual places; null: none here. */
export function findChromium(): string | null;
/** One sentence for whoever has none. */
export const HOW_TO_GET_ONE: string;
