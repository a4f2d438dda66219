/**
 * What this device keeps of answers, so that pages open again without a network. Only a secure page has such a place
 * (Service Workers, CacheStorage): elsewhere nothing is kept. It belongs to a right: what a set link opens goes with the
 * link, the leader's side with the session.
 */
const NAME = 'partbook-answers';
/** When an answer came, ms since 1970. */
const CAME = 'x-came';
/** As long as a leader's session (server/plugins/cookies.ts); a set link ends by itself before. */
const LONGEST = 30 * 24 * 60 * 60 * 1000;
/** Answers; the oldest go first. */
const MOST = 200;

export interface KeptAnswer<T> {
  readonly value: T;
  readonly version: number | null;
  /** ms since 1970. */
  readonly came: number;
}

/** Whether the question must be the very same, or only about the same thing: parts in another key are still parts. */
export type Match = 'exact' | 'same path';

/** Counts what was forgotten: an answer that was on its way by then is not kept afterwards. */
let era = 0;

export const eraNow = (): number => era;

const here = (): CacheStorage | undefined => (globalThis as { caches?: CacheStorage }).caches;
const urlOf = (path: string): string => new URL(`/api${path}`, location.origin).href;
const pathOf = (url: string): string => new URL(url).pathname.replace(/^\/api/, '');

/** `/set/abc/pages/x?…` → `/set/abc`; null: of the leader's side. */
export function linkPathOf(path: string): string | null {
  return /^\/set\/[^/?]+/.exec(path)?.[0] ?? null;
}

/** The place may be full or shut: then an answer is only shown. */
async function quietly<T>(work: (cache: Cache) => Promise<T>): Promise<T | null> {
  try {
    const cache = await here()?.open(NAME);
    return cache ? await work(cache) : null;
  } catch {
    return null;
  }
}

/** Keeps an answer in place of all earlier ones of its path. @param since `eraNow()` when it was asked for */
export async function keep(path: string, response: Response, since: number): Promise<void> {
  const body = await response.text().catch(() => null);
  if (body === null) return;
  const headers = new Headers({ 'content-type': 'application/json', [CAME]: String(Date.now()) });
  const etag = response.headers.get('etag');
  if (etag !== null) headers.set('etag', etag);
  await quietly(async (cache) => {
    if (since !== era) return;
    await cache.delete(urlOf(path), { ignoreSearch: true });
    const others = await cache.keys();
    for (const old of others.slice(0, Math.max(0, others.length - MOST + 1))) {
      await cache.delete(old);
    }
    if (since === era) await cache.put(urlOf(path), new Response(body, { headers }));
  });
}

async function hasEnded(cache: Cache, path: string): Promise<boolean> {
  const link = linkPathOf(path);
  const view = link === null ? undefined : await cache.match(urlOf(link));
  if (!view) return false;
  const { endsAt } = (await view.json()) as { readonly endsAt?: string };
  return endsAt !== undefined && Date.parse(endsAt) < Date.now();
}

/** What was kept of an answer; null: nothing, or nothing that may still be shown. */
export async function findKept<T>(path: string, match: Match): Promise<KeptAnswer<T> | null> {
  const found = await quietly(async (cache) => {
    const response = await cache.match(urlOf(path), { ignoreSearch: match === 'same path' });
    if (!response) return null;
    const came = Number(response.headers.get(CAME));
    const isOver = !(Date.now() - came < LONGEST) || (await hasEnded(cache, path));
    if (isOver) return 'over' as const;
    const version = Number(/v(\d+)/.exec(response.headers.get('etag') ?? '')?.[1] ?? NaN);
    const value = (await response.json()) as T;
    return { value, version: Number.isNaN(version) ? null : version, came };
  });
  if (found !== 'over') return found;
  await forgetKept((each) => each === pathOf(urlOf(path)) || isUnder(each, linkPathOf(path)));
  return null;
}

const isUnder = (path: string, link: string | null): boolean =>
  link !== null && (path === link || path.startsWith(`${link}/`));

/** Forgets the answers of the paths that are meant. */
export async function forgetKept(isMeant: (path: string) => boolean): Promise<void> {
  era += 1;
  await quietly(async (cache) => {
    for (const request of await cache.keys()) {
      if (isMeant(pathOf(request.url))) await cache.delete(request);
    }
  });
}

/** Everything that a set link opened here. */
export const forgetLink = (link: string): Promise<void> =>
  forgetKept((path) => isUnder(path, `/set/${link}`));

/** Everything of the leader's side. */
export const forgetLeaders = (): Promise<void> => forgetKept((path) => linkPathOf(path) === null);

/** What was changed on the leader's side, and the lists that it stands in: an earlier state of it is nothing to build on. */
export async function forgetChanged(path: string): Promise<void> {
  const own = /^\/(?!set\/)[^/?]+(?:\/[^/?]+)?/.exec(path)?.[0];
  if (own === undefined) return;
  const list = own.replace(/(.)\/.*/, '$1');
  await forgetKept((each) => each === list || each === own || each.startsWith(`${own}/`));
}

/** What a refusal takes with it: all that the same right opened, or the one thing that is not there. */
export async function forgetRefused(path: string, status: number, code: string): Promise<void> {
  const link = linkPathOf(path);
  const isWhole = link === null ? status === 401 || status === 403 : status === 410 || code === 'wrong-link'; // prettier-ignore
  const own = pathOf(urlOf(path));
  await forgetKept((each) =>
    isWhole ? (link === null ? linkPathOf(each) === null : isUnder(each, link)) : each === own,
  );
}
