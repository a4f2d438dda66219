import {
  Builds,
  Endings,
  Form,
  KeysOfForm,
  Textures,
  type Ending,
  type Key,
  type Score,
  type Texture,
} from '#music';
import type { ArrangedPass } from '#server/contract/music.ts';
import { endingLast, endingMoved } from './pass-endings.ts';
import { inUnison, passKeys, raisedPass, sayRaised, type PassKey } from './pass-keys.ts';
import { swapped } from './service-order.ts';

/** Whose passes they are: a song as it is usually done, or as it is done in one service. */
export interface PassesSource {
  readonly score: Score | null;
  /** The key that it is done in; null: not known yet. */
  readonly key: Key | null;
  /** What was set here; null: as usual. */
  readonly ownForm: readonly ArrangedPass[] | null;
  /** What is meant by usual; null: as the song has them, held. */
  readonly usualForm: readonly ArrangedPass[] | null;
  /** Who can lead a pass. */
  readonly singing: readonly PassLead[];
  nameOf(member: string | null): string | null;
  /** @param form null: as usual; `words`: what has changed, a sentence */
  setForm(form: readonly ArrangedPass[] | null, words: string): void;
}

export interface PassLead {
  readonly id: string;
  readonly name: string;
}

export interface ShownPass {
  readonly name: string;
  readonly texture: Texture;
  /** Id of who leads it; null: who leads the song. */
  readonly lead: string | null;
  /** Half steps above the key of the song. */
  readonly up: number;
  /** What it can be sung in; empty: the song has no key to raise. */
  readonly keys: readonly PassKey[];
  /** Everybody sings the tune. */
  readonly unison: boolean;
}

/** The passes of a song in order, how each is played and who leads it. */
export class PassList {
  readonly #source: PassesSource;

  constructor(source: PassesSource) {
    this.#source = source;
  }

  readonly passes: readonly ArrangedPass[] = $derived.by(() => {
    const { score, ownForm, usualForm } = this.#source;
    if (!score) return [];
    return ownForm ?? usualForm ?? Form.passesOf(score).map(({ pass }) => pass);
  });
  readonly shown: readonly ShownPass[] = $derived.by(() => {
    const { score, key } = this.#source;
    return this.passes.map((pass) => ({
      name: this.#nameOf(pass),
      texture: pass.texture ?? 'held',
      lead: pass.lead ?? null,
      up: pass.up ?? 0,
      keys: score ? passKeys(score, key, pass) : [],
      unison: pass.unison ?? false,
    }));
  });
  readonly textures: readonly Texture[] = $derived(this.shown.map(({ texture }) => texture));
  /** Which passes are sung in another key; empty: none. */
  readonly raised: string = $derived(sayRaised(this.shown));
  /** How these passes could build, one texture a pass. */
  readonly proposed: readonly Texture[] = $derived.by(() => {
    const { score } = this.#source;
    return score ? Builds.propose({ ...score, form: this.passes }) : [];
  });
  /** How the last of them ends, and how it would as proposed; null: as it is played. */
  readonly ends: { readonly now: Ending | null; readonly proposed: Ending | null } = $derived.by(
    () => {
      const { score } = this.#source;
      const now = this.passes.at(-1)?.ending ?? null;
      if (!score) return { now, proposed: null };
      const song = { ...score, form: this.passes };
      return { now, proposed: Builds.proposeEnding(song, this.proposed) };
    },
  );
  readonly isProposed: boolean = $derived.by(
    () =>
      this.ends.now === this.ends.proposed &&
      this.proposed.every((texture, i) => texture === this.textures[i]),
  );
  /** Whether they are other than usual. */
  readonly own: boolean = $derived.by(() => this.#source.ownForm !== null);
  /** Who sings, and who was chosen before and sings no more. */
  readonly leads: readonly PassLead[] = $derived.by(() => {
    const chosen = this.passes.flatMap(({ lead }) => lead ?? []);
    const ids = new Set([...this.#source.singing.map(({ id }) => id), ...chosen]);
    return [...ids].map((id) => ({ id, name: this.#source.nameOf(id) ?? 'no longer here' }));
  });
  /** Every section, each verse of it by itself, as can be put into the form. */
  readonly sections: readonly { readonly name: string; readonly pass: ArrangedPass }[] =
    $derived.by(() => {
      const { score } = this.#source;
      if (!score) return [];
      const own = Form.passesOf(score).map(({ pass }) => pass);
      const more = score.sections.flatMap(({ id, kind }): ArrangedPass[] =>
        kind === 'verse' && score.verses.length > 0
          ? score.verses.map(({ number }) => ({ section: id, verse: number }))
          : own.some(({ section }) => section === id)
            ? []
            : [{ section: id, verse: null }],
      );
      const named = new Map<string, ArrangedPass>();
      for (const { section, verse } of [...own, ...more]) {
        const name = this.#nameOf({ section, verse });
        if (!named.has(name)) named.set(name, { section, verse });
      }
      return [...named].map(([name, pass]) => ({ name, pass }));
    });

  setTexture(at: number, texture: Texture): void {
    const pass = this.passes[at];
    if (!pass) return;
    this.#source.setForm(
      this.passes.with(at, { ...pass, texture }),
      `${this.#nameOf(pass)}: ${texture}.`,
    );
  }

  /** What is played in a texture, with the beats of the pass: `strike every beat, four to a bar`. */
  say(at: number, texture: Texture): string {
    const { score } = this.#source;
    const section = score?.sections.find(({ id }) => id === this.passes[at]?.section);
    return score && section ? Textures.sayTexture(score, section, texture) : '';
  }

  /** A hairpin over passes, from one as it is played to another; the same twice: that pass alone. */
  draw(stroke: { readonly from: number; readonly to: number; readonly texture: Texture }): void {
    const { from, to, texture } = stroke;
    const textures = Builds.drawn(this.textures, stroke);
    const [first, last] = [this.passes[from], this.passes[to]];
    if (!first || !last || textures.every((each, i) => each === this.textures[i])) return;
    if (from === to) this.setTexture(to, texture);
    else {
      const [left, right] = [Math.min(from, to), Math.max(from, to)];
      const ends = `${textures[left] ?? ''} to ${textures[right] ?? ''}`;
      const names = [left, right].map((at) => this.shown[at]?.name ?? '').join(' to ');
      this.#play(textures, `${names}: ${ends}.`);
    }
  }

  /** Of the last pass; null: as it is played. */
  setEnding(ending: Ending | null): void {
    if (ending === this.ends.now) return;
    const words = ending === null ? 'as it is played' : Endings.HOW[ending];
    this.#source.setForm(endingLast(this.passes, ending), `The last time ends ${words}.`);
  }

  /** The build and the ending, as one step. */
  takeProposed(): void {
    this.#play(this.proposed, 'The passes build as proposed.', this.ends.proposed);
  }

  #play(textures: readonly Texture[], words: string, ending = this.ends.now): void {
    const form = this.passes.map((pass, i) => ({ ...pass, texture: textures[i] ?? 'held' }));
    this.#source.setForm(endingLast(form, ending), words);
  }

  /** Passes in another order: how the song ends stays with whichever is last. */
  #reorder(form: readonly ArrangedPass[], words: string): void {
    this.#source.setForm(endingMoved(form, this.passes.at(-1)), words);
  }

  /** @param member null: who leads the song */
  setLead(at: number, member: string | null): void {
    const pass = this.passes[at];
    if (!pass) return;
    const { lead: _, ...rest } = pass;
    const who =
      member === null ? 'led as usual' : `${this.#source.nameOf(member) ?? 'somebody'} leads`;
    const changed = member === null ? rest : { ...rest, lead: member };
    this.#source.setForm(this.passes.with(at, changed), `${this.#nameOf(pass)}: ${who}.`);
  }

  /** @param up half steps above the key of the song; 0: in it */
  setUp(at: number, up: number): void {
    const pass = this.passes[at];
    if (!pass || (pass.up ?? 0) === up) return;
    const how = up === 0 ? 'in the key of the song' : KeysOfForm.sayUp(up);
    const form = this.passes.with(at, raisedPass(pass, up));
    this.#source.setForm(form, `${this.#nameOf(pass)}: ${how}.`);
  }

  setUnison(at: number, unison: boolean): void {
    const pass = this.passes[at];
    if (!pass) return;
    const how = unison ? 'everybody sings the tune' : 'in parts';
    const form = this.passes.with(at, inUnison(pass, unison));
    this.#source.setForm(form, `${this.#nameOf(pass)}: ${how}.`);
  }

  move(at: number, by: -1 | 1): void {
    this.#reorder(swapped(this.passes, at, by), 'The passes are in another order.');
  }

  remove(at: number): void {
    const pass = this.passes[at];
    if (!pass || this.passes.length < 2) return;
    this.#reorder(this.passes.toSpliced(at, 1), `${this.#nameOf(pass)} is left out.`);
  }

  /** @param at place in `sections` */
  add(at: number): void {
    const section = this.sections[at];
    if (section) this.#reorder([...this.passes, section.pass], `${section.name} comes at the end.`);
  }

  asUsual(): void {
    this.#source.setForm(null, 'The passes are as usual.');
  }

  #nameOf({ section, verse }: ArrangedPass): string {
    const { score } = this.#source;
    const found = score?.sections.find(({ id }) => id === section);
    if (!score || !found) return 'a section that the song has no more';
    const said = Form.verseSaid(score, { section, verse });
    return found.kind === 'verse' ? Form.namePass(found, said) : found.name;
  }
}
