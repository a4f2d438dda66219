import type { SongFormat, TextMark } from '#music';

const TEXT = 'partbook.draft';
const SAID = 'partbook.draft.said';

/** A text on its way in, with what was said of it. */
export interface Draft {
  readonly text: string;
  readonly said: SongFormat | null;
  readonly marks: readonly TextMark[];
}

const EMPTY: Draft = { text: '', said: null, marks: [] };

/** What this device kept, so that leaving the page loses nothing. */
export function keptDraft(): Draft {
  try {
    const said = JSON.parse(localStorage.getItem(SAID) ?? '{}') as Partial<Draft>;
    return { ...EMPTY, ...said, text: localStorage.getItem(TEXT) ?? '' };
  } catch {
    return EMPTY;
  }
}

export function keepDraft({ text, said, marks }: Draft): void {
  try {
    if (text) localStorage.setItem(TEXT, text);
    else localStorage.removeItem(TEXT);
    if (text && (said || marks.length > 0))
      localStorage.setItem(SAID, JSON.stringify({ said, marks }));
    else localStorage.removeItem(SAID);
  } catch {
    // A device that keeps nothing loses the text only when the page is closed.
  }
}
