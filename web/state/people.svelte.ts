import type { Member, MemberChange, VoiceRange } from '#server/contract/members.ts';
import type { Trouble } from '#web/api/http.ts';
import {
  changeMember,
  createMember,
  deleteMember,
  listMembers,
  restoreMember,
} from '#web/api/members.ts';
import { notices } from './notice.svelte.ts';
import { Saver } from './saver.svelte.ts';
import { markRange, type RangeField } from './voice-ranges.ts';

/** Everyone of the team, and what is being changed about them. */
export class People {
  /** null: not there yet. */
  list = $state.raw<readonly Member[] | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  /** Id of the one whose lines are open. */
  open = $state<string | null>(null);
  /** A name that is being typed; stays when it could not be sent. */
  name = $state('');
  busy = $state(false);
  #savers = new Map<string, Saver<Member, MemberChange>>();

  readonly shown = $derived(
    (this.list ?? []).toSorted((a, b) => a.name.localeCompare(b.name) || a.id.localeCompare(b.id)),
  );
  readonly singers = $derived(this.shown.filter((member) => member.comfortable !== null));

  /** Those whose range is known, as the picture of all ranges wants them. */
  readonly withRange = $derived(
    this.shown.flatMap(({ id, name, comfortable, limit }) =>
      comfortable ? [{ id, name, comfortable, limit }] : [],
    ),
  );

  async load(): Promise<void> {
    const answer = await listMembers();
    if (answer.ok) {
      this.#keepHolding();
      this.list = answer.value.members.map((member) => ({
        ...member,
        ...this.#savers.get(member.id)?.held,
      }));
      this.trouble = null;
    } else this.trouble = answer.trouble;
  }

  async add(roles: Member['roles']): Promise<Member | null> {
    const name = this.name.trim();
    if (!name || this.busy) return null;
    this.busy = true;
    const answer = await createMember({ name, roles });
    this.busy = false;
    if (!answer.ok) {
      this.trouble = answer.trouble;
      return null;
    }
    this.trouble = null;
    this.name = '';
    this.list = [...(this.list ?? []), answer.value];
    this.open = answer.value.id;
    return answer.value;
  }

  /** Shows the change at once and saves it; the foot of the page offers the way back where `words` are given. */
  change(id: string, change: MemberChange, words?: string): void {
    const before = this.list?.find((member) => member.id === id);
    if (!before) return;
    this.#replace({ ...before, ...change });
    // A range that is marked anew is of today, whatever day a step back that still waits to be sent would give it.
    const fresh = 'comfortable' in change ? { rangeMarkedAt: undefined, ...change } : change;
    void this.saverOf(before).change(fresh as MemberChange);
    if (!words) return;
    const back = Object.fromEntries(
      Object.keys(change).map((field) => [field, before[field as keyof Member]]),
    ) as MemberChange;
    // An earlier range comes back with its day.
    if (back.comfortable) back.rangeMarkedAt = before.rangeMarkedAt;
    notices.say(words, () => this.change(id, back), { owner: this });
  }

  /** The page is left: its way back goes with it. */
  leave(): void {
    notices.leave(this);
  }

  /** Marks one of the two ranges; furthest notes that leave out easy ones are not sent, and the foot says why. */
  mark(id: string, field: RangeField, range: VoiceRange): void {
    const member = this.list?.find((each) => each.id === id);
    if (!member) return;
    const { change, words } = markRange(member, field, range);
    if (change) this.change(id, change, words);
    else notices.say(words);
  }

  /** Marks what was found as a child's range: whose it is counts as a child from now on, and so is private. */
  markChild(id: string, range: VoiceRange): void {
    const member = this.list?.find((each) => each.id === id);
    const { change } = member ? markRange(member, 'comfortable', range) : { change: null };
    if (!member || !change) return;
    const words = `The range of ${member.name} is marked as a child’s: name and range stay with this team.`;
    this.change(id, { ...change, child: true }, words);
  }

  /** The range was asked again and is the same: it gets today's day. */
  stillTrue(id: string): void {
    const member = this.list?.find((each) => each.id === id);
    if (!member?.comfortable) return;
    const words = `The range of ${member.name} is true today.`;
    this.change(id, { comfortable: member.comfortable }, words);
  }

  saverOf(member: Member): Saver<Member, MemberChange> {
    const { id } = member;
    let saver = this.#savers.get(id);
    if (!saver) {
      saver = new Saver(member, {
        send: (version, change: MemberChange) => changeMember(id, version, change),
        onsaved: (saved) => this.#replace(saved),
        onstale: async () => {
          notices.say('Someone else changed this in between; here is how it stands now.');
          await this.load();
        },
      });
      this.#savers.set(id, saver);
    }
    return saver;
  }

  async takeOut(member: Member): Promise<void> {
    const before = this.list;
    const version = this.saverOf(member).version;
    this.list = (before ?? []).filter((each) => each.id !== member.id);
    const answer = await deleteMember(member.id, version);
    if (!answer.ok) {
      this.list = before;
      notices.say(answer.trouble.message);
      return;
    }
    notices.say(`${member.name} is off the list.`, async () => {
      const back = await restoreMember(member.id);
      if (!back.ok) notices.say(back.trouble.message);
      await this.load();
    });
  }

  /** Those who still hold a change stay, with the version it builds on; the others begin anew. */
  #keepHolding(): void {
    for (const [id, saver] of this.#savers) if (!saver.held) this.#savers.delete(id);
  }

  #replace(member: Member): void {
    this.list = (this.list ?? []).map((each) => (each.id === member.id ? member : each));
  }
}
