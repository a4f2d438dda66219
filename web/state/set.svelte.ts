import type { VoiceRange } from '#server/contract/members.ts';
import type { SetPerson, SetView } from '#server/contract/set.ts';
import type { Trouble } from '#web/api/http.ts';
import { closeSet, findSet, forgetLink, markRange, openSet } from '#web/api/set.ts';
import { notices } from './notice.svelte.ts';
import { takeSecret } from './set-secret.ts';

const STORED = 'partbook.set.';

/** What happened where a link does not open, and what to do. Nothing of the service is said. */
const SHUT: Readonly<Record<string, { title: string; words: string }>> = {
  'wrong-link': {
    title: 'This link does not open',
    words:
      'Perhaps a part of it was lost when it was copied. Open the whole link from the message again, or ask your leader to send it once more.',
  },
  'link-ended': {
    title: 'This link has ended',
    words:
      'Links end by themselves after the service. Ask your leader for the one of the next service.',
  },
  'link-revoked': {
    title: 'This link was taken back',
    words: 'Nothing is wrong with your device. Ask your leader for a new link.',
  },
  forgotten: {
    title: 'Forgotten on this device',
    words:
      'Nothing of the service is kept here any more. To come back, open the link from the message again.',
  },
  'too-many-attempts': {
    title: 'Too many tries',
    words: 'Wait a minute, then open the link from the message again.',
  },
  offline: {
    title: 'No answer',
    words:
      'The device has no network, or the machine with the music does not answer just now. Nothing is lost: try again in the room where the music is.',
  },
};

/** What a set link opens: the service, and whose pages there are. */
export class OpenSet {
  readonly link: string;
  view = $state.raw<SetView | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  /** Id of who was chosen on this device. */
  mine = $state<string | null>(null);
  /** Whose range is being marked. */
  marking = $state<string | null>(null);
  /** Whose range has just been kept. */
  thanked = $state<string | null>(null);
  /** A range that is on the screen and not known to be kept. */
  #held: {
    id: string;
    range: VoiceRange | null;
    earlier: { readonly rangeMarkedAt: string | null } | undefined;
  } | null = $state.raw(null);
  /** Whose range could not be sent for want of a network. */
  unsent = $state.raw<SetPerson | null>(null);

  constructor(link: string) {
    this.link = link;
    try {
      this.mine = localStorage.getItem(STORED + link);
    } catch {
      // Everyone chooses again.
    }
  }

  readonly shut = $derived(
    this.trouble && {
      title: 'The link does not open just now',
      words: this.trouble.message,
      ...SHUT[this.trouble.code],
    },
  );
  /** Who opened this link here before. */
  readonly me = $derived(this.view?.people.find(({ id }) => id === this.mine) ?? null);
  readonly others = $derived(this.view?.people.filter(({ id }) => id !== this.me?.id) ?? []);

  async open(): Promise<void> {
    this.trouble = null;
    const secret = takeSecret(this.link);
    const opened = secret === null ? null : await openSet(this.link, secret);
    // Without a network the link may have been opened here before.
    const isRefused = opened !== null && !opened.ok && opened.trouble.status !== 0;
    if (isRefused && opened.trouble.status === 410) await forgetLink(this.link);
    const answer = isRefused ? opened : await findSet(this.link, (late) => this.#refuse(late));
    if (answer.ok) this.view = answer.value as SetView;
    // What is on the screen stays where only the network is missing.
    else if (answer.trouble.status === 0) this.trouble = answer.trouble;
    else this.#refuse(answer.trouble);
  }

  #refuse(trouble: Trouble): void {
    this.trouble = trouble;
    this.view = null;
  }

  choose(id: string): void {
    this.mine = id;
    try {
      localStorage.setItem(STORED + this.link, id);
    } catch {
      // Chosen for this time.
    }
  }

  rangeOf(person: SetPerson): VoiceRange | null {
    return this.#held?.id === person.id ? this.#held.range : person.comfortable;
  }

  /**
   * Keeps what was marked; null takes the mark back, as the undo of a first one does.
   * @param earlier the day that an earlier range had, where it is brought back
   */
  async mark(
    person: SetPerson,
    range: VoiceRange | null,
    earlier?: { readonly rangeMarkedAt: string | null },
  ): Promise<void> {
    const { comfortable: before, rangeMarkedAt } = person;
    this.#held = { id: person.id, range, earlier };
    this.thanked = null;
    this.unsent = null;
    const answer = await markRange(this.link, person.id, { comfortable: range, ...earlier });
    if (!answer.ok) {
      if (answer.trouble.status === 0) {
        this.unsent = person;
        return;
      }
      this.#held = null;
      const again = { label: 'Try again' };
      notices.say(answer.trouble.message, () => this.mark(person, range, earlier), again);
      return;
    }
    if (this.#held?.id === person.id && this.#held.range === range) this.#held = null;
    this.#replace(answer.value);
    if (range) this.thanked = person.id;
    notices.say(
      range ? `The range of ${person.name} is kept.` : `The range of ${person.name} is taken back.`,
      () => this.mark(answer.value, before, before ? { rangeMarkedAt } : undefined),
    );
  }

  /** Sends what waits for a network. */
  async sendAgain(): Promise<void> {
    const [person, held] = [this.unsent, this.#held];
    if (person && held?.id === person.id) await this.mark(person, held.range, held.earlier);
  }

  /** Forgets the link and who was chosen, on this device. */
  async forget(): Promise<void> {
    // Without a network the cookie stays, but nothing that can be looked at.
    const [answer] = await Promise.all([closeSet(this.link), forgetLink(this.link)]);
    if (!answer.ok) {
      notices.say(`Not forgotten yet. ${answer.trouble.message}`);
      return;
    }
    this.mine = null;
    try {
      localStorage.removeItem(STORED + this.link);
    } catch {
      // Nothing was kept.
    }
    this.view = null;
    this.trouble = { code: 'forgotten', message: '', status: 0, problems: [] };
  }

  #replace(person: SetPerson): void {
    if (!this.view) return;
    const people = this.view.people.map((each) => (each.id === person.id ? person : each));
    this.view = { ...this.view, people };
  }
}
