import type { Score } from '#music';
import { blankSong } from '#web/state/edit-words.ts';

/** A server with one song, as the routes answer: versions, 412 for a stale one, and what one tells it to refuse. */
export class FakeSongServer {
  version = 1;
  score: Score = { ...blankSong(), facts: { ...blankSong().facts, title: 'Lamp' } };
  down = false;
  refuses: string | null = null;
  /** Takes what comes, and the answer is lost on its way. */
  silent = false;
  /** Takes nothing out: every GET fails. */
  hidden = false;
  readonly asked: string[] = [];
  /** Under which name the song was sent first. */
  #draft: string | undefined;

  answer = (path: string, init: RequestInit = {}): Promise<Response> => {
    const method = init.method ?? 'GET';
    this.asked.push(`${method} ${path}`);
    if (this.down) return Promise.reject(new TypeError('no network'));
    if (method === 'GET' && this.hidden) return Promise.resolve(this.#problem(503, 'Busy.'));
    if (method === 'GET') return Promise.resolve(this.#song());
    const { score, draft } = JSON.parse(String(init.body)) as { score: Score; draft?: string };
    if (this.refuses) return Promise.resolve(this.#problem(422, this.refuses));
    if (method === 'POST' && draft !== undefined && draft === this.#draft)
      return Promise.resolve(this.#song());
    const on = new Headers(init.headers).get('if-match');
    if (method === 'PUT' && on !== `"v${this.version}"`)
      return Promise.resolve(this.#problem(412, 'Someone else changed it.'));
    [this.score, this.version] = [score, method === 'POST' ? 1 : this.version + 1];
    if (method === 'POST') this.#draft = draft;
    if (this.silent) return Promise.reject(new TypeError('no network'));
    return Promise.resolve(this.#song(method === 'POST' ? 201 : 200));
  };

  #song(status = 200): Response {
    const body = { id: 'lamp', version: this.version, score: this.score };
    return Response.json(body, { status, headers: { etag: `"v${this.version}"` } });
  }

  #problem(status: number, detail: string): Response {
    return Response.json({ code: 'x', detail, status }, { status });
  }
}
