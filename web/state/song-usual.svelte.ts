import { QUARTER, Sheets, Time, type SheetHeading, type Tempo } from '#music';
import { PassList, type PassLead } from './pass-list.svelte.ts';
import type { People } from './people.svelte.ts';
import type { SongPage } from './song.svelte.ts';

/** How few and how many counted notes a minute an arrangement can have, as the contract has it. */
const [SLOWEST, FASTEST] = [10, 400];

/** Whether a note can be counted: whole to sixteenth, plain or dotted. */
function counts(beat: number): boolean {
  return [4, 2, 1, 1 / 2, 1 / 4].some((quarters) =>
    [QUARTER * quarters, QUARTER * quarters * 1.5].includes(beat),
  );
}

/** How fast the team usually does a song. The counted note is the song's; the number can be another. */
export class UsualTempo {
  /** What stands in the field and is no tempo; null: the field shows what is kept. */
  typed = $state<string | null>(null);
  /** What is wrong with it, a sentence. */
  problem = $state<string | null>(null);
  readonly #page: SongPage;

  constructor(page: SongPage) {
    this.#page = page;
  }

  /** null: the song says none, and nobody else does. */
  readonly tempo: Tempo | null = $derived.by(
    () => this.#page.arrangement?.tempo ?? this.#page.score?.tempo ?? null,
  );
  /** Whether it is another than the song's. */
  readonly own: boolean = $derived.by(() => (this.#page.arrangement?.tempo ?? null) !== null);
  /** The note that is counted: that of the tempo; where there is none, the felt beat of the first meter. */
  readonly beat: number = $derived.by(() => {
    const { score } = this.#page;
    const beat = this.tempo?.beat ?? (score ? Time.feltBeat(Time.meterAt(score, 0)) : QUARTER);
    return counts(beat) ? beat : QUARTER;
  });
  /** As it is printed: note, dots and a whole number. */
  readonly mark: SheetHeading['tempo'] = $derived.by(() => Sheets.tempoOf(this.tempo));
  /** The counted note for the drawing of it. */
  readonly note = $derived.by(
    () => Sheets.tempoOf({ beat: this.beat, perMinute: 1 }) ?? { note: 'quarter', dots: 0 },
  );
  readonly noteWords = $derived(`${'dotted '.repeat(this.note.dots)}${this.note.note} notes`);
  /** What the field shows. */
  readonly shown: string = $derived(this.typed ?? (this.mark ? String(this.mark.perMinute) : ''));

  /** @param text what was typed: a whole number a minute; anything else stays in the field, and nothing is changed */
  set(text: string): void {
    const perMinute = /^\s*\d{1,4}\s*$/.test(text) ? Number(text) : NaN;
    if (!(perMinute >= SLOWEST && perMinute <= FASTEST)) {
      this.#refuse(text);
      return;
    }
    this.#settle();
    if (perMinute === this.mark?.perMinute) return;
    const words = `Now ${perMinute} ${this.noteWords} a minute.`;
    this.#page.arrangeSaying({ tempo: { beat: this.beat, perMinute } }, words);
  }

  /** The song's tempo is a file's, which nobody confirmed: it may be no more than what a program played it at. */
  readonly unconfirmed: boolean = $derived.by(
    () => !this.own && this.mark !== null && this.#page.isFromFile,
  );

  /** From now on it is the team's tempo, and stays where the song says another. */
  confirm(): void {
    const { tempo, mark } = this;
    this.#settle();
    if (!tempo || !mark || this.own) return;
    const kept = counts(tempo.beat) ? tempo : { beat: this.beat, perMinute: mark.perMinute };
    this.#page.arrangeSaying({ tempo: kept }, `Confirmed: ${mark.perMinute} a minute.`);
  }

  asTheSong(): void {
    this.#settle();
    if (!this.own) return;
    const tempo = Sheets.tempoOf(this.#page.score?.tempo ?? null);
    const words = tempo
      ? `The tempo is the song’s own: ${tempo.perMinute} a minute.`
      : 'No tempo: the song says none.';
    this.#page.arrangeSaying({ tempo: null }, words);
  }

  #refuse(text: string): void {
    const empty = text.trim() === '';
    if (empty && !this.tempo) {
      this.#settle();
      return;
    }
    const kept = this.mark ? `${this.mark.perMinute} a minute stays` : 'nothing is changed';
    const what = empty ? 'An empty field' : `“${text.trim()}”`;
    this.typed = text;
    this.problem = `${what} is no tempo: write a whole number from ${SLOWEST} to ${FASTEST}. Until then ${kept}.`;
  }

  #settle(): void {
    this.typed = null;
    this.problem = null;
  }
}

/** The passes as the team usually does the song; who sings it, or sings at all, can lead one. */
export function usualPasses(page: SongPage, people: Pick<People, 'shown'>): PassList {
  return new PassList({
    get score() {
      return page.score;
    },
    get key() {
      return page.key;
    },
    get ownForm() {
      return page.arrangement?.form ?? null;
    },
    usualForm: null,
    get singing(): readonly PassLead[] {
      const chosen = page.arrangement?.singers ?? [];
      return people.shown.filter(
        ({ id, roles }) => chosen.includes(id) || roles.some((role) => role.endsWith('voice')),
      );
    },
    nameOf: (member) => people.shown.find(({ id }) => id === member)?.name ?? null,
    setForm: (form, words) => page.arrangeSaying({ form: form && [...form] }, words),
  });
}
