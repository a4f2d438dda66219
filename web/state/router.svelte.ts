import { parse } from 'regexparam';

export interface Place {
  /** The pattern that fits, or null: no such page. */
  readonly route: string | null;
  readonly params: Readonly<Record<string, string>>;
}

/** Finds the pattern that a path fits; the first one wins. */
export function placeOf(path: string, routes: readonly string[]): Place {
  for (const route of routes) {
    const { keys, pattern } = parse(route);
    const match = pattern.exec(path);
    if (!match) continue;
    const params: Record<string, string> = {};
    keys.forEach((key, index) => {
      params[key] = decodeURIComponent(match[index + 1] ?? '');
    });
    return { route, params };
  }
  return { route: null, params: {} };
}

/** Where in the app we are. The address bar is the truth; pages are plain links. */
export class Router {
  path = $state(location.pathname);
  query = $state.raw(new URLSearchParams(location.search));

  constructor() {
    addEventListener('popstate', () => this.#read());
  }

  #read(): void {
    this.path = location.pathname;
    this.query = new URLSearchParams(location.search);
  }

  go(to: string, how: 'push' | 'replace' = 'push'): void {
    if (how === 'push') history.pushState({}, '', to);
    else history.replaceState({}, '', to);
    const moved = location.pathname !== this.path;
    this.#read();
    if (moved) scrollTo(0, 0);
  }

  /** Changes one value of the query without a new entry in the history. */
  set(name: string, value: string | null): void {
    const query = new URLSearchParams(location.search);
    if (value === null) query.delete(name);
    else query.set(name, value);
    const text = query.toString();
    this.go(location.pathname + (text ? `?${text}` : ''), 'replace');
  }

  /** Turns a click on a link of ours into a change of page; leaves every other click alone. */
  follow = (event: MouseEvent): void => {
    if (event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    const link = (event.target as Element | null)?.closest('a');
    if (!link || link.target || link.hasAttribute('download')) return;
    if (link.origin !== location.origin || link.pathname.startsWith('/api/')) return;
    if (link.hash && link.pathname === location.pathname) return;
    // The secret of a set link is taken while its page loads: the browser opens it.
    if (link.hash && link.pathname.startsWith('/s/')) return;
    event.preventDefault();
    this.go(link.pathname + link.search + link.hash);
  };
}

export const router = new Router();
