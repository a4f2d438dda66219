import { forgetChanged } from './kept.ts';

/** Why an answer did not come, said for a person. */
export interface Trouble {
  /** Stable: the server's problem code, or `offline`. */
  readonly code: string;
  /** What happened and what to do, in one or two sentences. */
  readonly message: string;
  /** HTTP status; 0 where no answer came at all. */
  readonly status: number;
  /** What is wrong in what was sent, with its place where it has one. */
  readonly problems: readonly {
    readonly code?: string;
    readonly message: string;
    readonly field?: string;
    readonly line?: number;
    readonly column?: number;
  }[];
}

/** Expected failures are values. `version` is what the next change must name. */
export type Answer<T> =
  | { readonly ok: true; readonly value: T; readonly version: number | null }
  | { readonly ok: false; readonly trouble: Trouble };

export interface Ask {
  readonly method?: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  readonly body?: unknown;
  /** false: it is sent with a body and yet only asks, so that what the device keeps stays true. */
  readonly changes?: false;
  /** A zip, in place of a body in JSON; the browser reads it while it sends it. */
  readonly zip?: Blob;
  /** The version that a change builds on (RFC 9110, If-Match). */
  readonly version?: number;
  readonly signal?: AbortSignal;
  /** Is given what came, where it is no refusal. */
  readonly onanswer?: (response: Response) => void;
}

/** What is said where no answer comes. */
export const OFFLINE: Trouble = {
  code: 'offline',
  message:
    'The server did not answer. What you typed is kept here; try again when the network is back.',
  status: 0,
  problems: [],
};

async function troubleOf(response: Response): Promise<Trouble> {
  const unknown: Trouble = {
    code: 'unknown',
    message: `The server could not do that (status ${response.status}). Nothing was changed; try again.`,
    status: response.status,
    problems: [],
  };
  try {
    const said: unknown = await response.json();
    if (typeof said !== 'object' || said === null) return unknown;
    const { code, detail, title, problems } = said as Record<string, unknown>;
    return {
      code: typeof code === 'string' ? code : unknown.code,
      message:
        typeof detail === 'string' ? detail : typeof title === 'string' ? title : unknown.message,
      status: response.status,
      problems: Array.isArray(problems) ? (problems as Trouble['problems']) : [],
    };
  } catch {
    return unknown;
  }
}

function versionOf(response: Response): number | null {
  const match = /v(\d+)/.exec(response.headers.get('etag') ?? '');
  return match ? Number(match[1]) : null;
}

/** The answers that concern whoever asks and not the question: every page would get them. */
const SHUT_OUT = new Set(['not-signed-in', 'only-this-machine']);
let shutOut: (trouble: Trouble) => void = () => undefined;

/** Who is told when the server lets this browser no further. */
export function onShutOut(tell: (trouble: Trouble) => void): void {
  shutOut = tell;
}

async function refusalOf(response: Response): Promise<Trouble> {
  const trouble = await troubleOf(response);
  if (SHUT_OUT.has(trouble.code)) shutOut(trouble);
  return trouble;
}

function initOf(options: Ask, accept: string): RequestInit {
  const headers: Record<string, string> = { accept };
  const init: RequestInit = { method: options.method ?? 'GET', headers };
  if (options.body !== undefined) {
    headers['content-type'] = 'application/json';
    init.body = JSON.stringify(options.body);
  }
  if (options.zip !== undefined) {
    headers['content-type'] = 'application/zip';
    init.body = options.zip;
  }
  if (options.version !== undefined) headers['if-match'] = `"v${options.version}"`;
  if (options.signal) init.signal = options.signal;
  return init;
}

/** Asks the server. Never throws for what a network or a server may do; an aborted question throws as usual. */
export async function ask<T>(path: string, options: Ask = {}): Promise<Answer<T>> {
  try {
    const response = await fetch(`/api${path}`, initOf(options, 'application/json'));
    if (!response.ok) return { ok: false, trouble: await refusalOf(response) };
    options.onanswer?.(response.clone());
    const isChange = options.method && options.method !== 'GET' && options.changes !== false;
    if (isChange) void forgetChanged(path);
    const value = (response.status === 204 ? undefined : await response.json()) as T;
    return { ok: true, value, version: versionOf(response) };
  } catch (error) {
    // The network can also break off in the middle of an answer.
    if (options.signal?.aborted) throw error;
    return { ok: false, trouble: OFFLINE };
  }
}

/**
 * Asks for an answer that comes in rows, each a JSON text on a line of its own, and hands them on as they come. Whether the
 * last one came is for the rows to say.
 */
export async function hear<Row>(
  path: string,
  options: Ask & { readonly accept: string },
  onrow: (row: Row) => void,
): Promise<Answer<void>> {
  try {
    const response = await fetch(`/api${path}`, initOf(options, options.accept));
    if (!response.ok || !response.body) return { ok: false, trouble: await refusalOf(response) };
    const reader = response.body.getReader();
    const decoder = new TextDecoder();
    let rest = '';
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      const rows = (rest + decoder.decode(part.value, { stream: true })).split('\n');
      rest = rows.pop() ?? '';
      for (const row of rows) onrow(JSON.parse(row) as Row);
    }
    return { ok: true, value: undefined, version: null };
  } catch (error) {
    if (options.signal?.aborted) throw error;
    return { ok: false, trouble: OFFLINE };
  }
}

/** The part of an address after the question mark; what is undefined or null is left out. */
export function queryOf(
  values: Readonly<Record<string, string | number | null | undefined>>,
): string {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(values)) {
    if (value !== undefined && value !== null) query.set(name, String(value));
  }
  const text = query.toString();
  return text ? `?${text}` : '';
}
