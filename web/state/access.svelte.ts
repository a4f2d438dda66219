import type { Access } from '#server/contract/access.ts';
import { changePassphrase, findAccess, forgetLeaders, signIn, signOut } from '#web/api/access.ts';
import { onShutOut, type Trouble } from '#web/api/http.ts';
import { forgetSaved } from './edit-draft.ts';
import { notices } from './notice.svelte.ts';
import { retryKept } from './saver.svelte.ts';

/** Whether the leader's side is open to this browser, and the way in. */
class AccessState {
  /** Why the server lets this browser no further; null: as far as is known it does. */
  shut = $state.raw<Trouble | null>(null);
  /** How it stands; null: not asked yet. */
  stands = $state.raw<Access | null>(null);
  passphrase = $state('');
  busy = $state(false);
  trouble = $state.raw<Trouble | null>(null);
  /** Counts the times that a page must begin anew after the door opened. */
  entered = $state(0);

  constructor() {
    onShutOut((trouble) => (this.shut = trouble));
  }

  /** Whether a passphrase opens the door, or nothing but the machine itself. */
  readonly asks = $derived(this.shut?.code === 'not-signed-in');

  async load(): Promise<void> {
    const answer = await findAccess();
    if (answer.ok) this.stands = answer.value;
    this.trouble = answer.ok ? null : answer.trouble;
  }

  async signIn(): Promise<void> {
    if (this.busy || this.passphrase === '') return;
    this.busy = true;
    const answer = await signIn(this.passphrase);
    this.busy = false;
    this.trouble = answer.ok ? null : answer.trouble;
    if (!answer.ok) return;
    this.#open();
  }

  /** Asks anew whether the door is open: on another machine the network may have changed. */
  async knock(): Promise<void> {
    await this.load();
    if (this.stands?.may) this.#open();
  }

  async signOut(): Promise<void> {
    // Whatever the server answers: who signs out leaves nothing to be looked at here.
    const [answer] = await Promise.all([signOut(), forgetLeaders()]);
    if (answer.ok) await forgetSaved();
    else notices.say(answer.trouble.message);
    await this.load();
    if (this.stands && !this.stands.may) {
      const message = 'Signed out. The passphrase opens the leader’s side again.';
      this.shut = { code: 'not-signed-in', message, status: 401, problems: [] };
    }
  }

  /** @param passphrase null: none from now on. Returns what was wrong, or null. */
  async set(passphrase: string | null, current: string): Promise<Trouble | null> {
    this.busy = true;
    const isSet = this.stands?.passphrase ?? false;
    const answer = await changePassphrase({ passphrase, ...(isSet ? { current } : {}) });
    this.busy = false;
    if (!answer.ok) return answer.trouble;
    notices.say(passphrase === null ? 'The passphrase is taken away.' : 'The passphrase is set.');
    await this.load();
    return null;
  }

  /** What waited to be saved is sent, and the page stays with it; else the page begins anew. */
  #open(): void {
    this.passphrase = '';
    this.trouble = null;
    this.shut = null;
    if (!retryKept()) this.entered += 1;
  }
}

export const access = new AccessState();
