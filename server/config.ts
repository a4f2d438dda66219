import { isAbsolute, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';

/** The folder that holds package.json, from the source and from the bundle in `dist/server` alike. */
const ROOT = fileURLToPath(
  new URL(import.meta.url.includes('/dist/server/') ? '../..' : '..', import.meta.url),
);

const path = (fallback: string) =>
  z
    .string()
    .min(1)
    .default(fallback)
    .transform((value) => (isAbsolute(value) ? value : join(ROOT, value)));

/** Scheme and name, with a port where it has one, and nothing behind. */
function isOrigin(text: string): boolean {
  if (!URL.canParse(text)) return false;
  const { protocol, href, origin } = new URL(text);
  return /^https?:$/.test(protocol) && href === `${origin}/`;
}

/** Every variable has a default that works: none must be set. */
const Environment = z.object({
  /**
   * All addresses, so that telephones in the same network can open set links. It is safe to: the leader's side is shut to
   * other machines until it has a passphrase, and asks for it from then on (`server/plugins/access.ts`).
   */
  HOST: z.string().min(1).default('0.0.0.0'),
  PORT: z.coerce.number().int().min(0).max(65535).default(3000),
  DATABASE_URL: z
    .string()
    .regex(/^file:/, 'must begin with file:')
    .default('file:./data/partbook.db'),
  /** Names beside localhost that the app answers to, with commas between: `team.example,stand.local`. */
  ALLOWED_HOSTS: z
    .string()
    .default('')
    .transform((text) =>
      text
        .split(',')
        .map((name) => name.trim().toLowerCase())
        .filter((name) => name !== ''),
    ),
  /** Where the app is found from elsewhere, if something in front of it passes requests on: `https://team.example`. */
  PUBLIC_ADDRESS: z
    .string()
    .optional()
    .refine((text) => text === undefined || isOrigin(text), 'must be like https://team.example')
    .transform((text) => (text === undefined ? null : new URL(text).origin)),
  WEB_ROOT: path('dist/web'),
  SEED_DATA: path('seed-data'),
});

export interface Config {
  readonly host: string;
  readonly port: number;
  readonly databaseUrl: string;
  readonly allowedHosts: readonly string[];
  /** Origin; null: found only under the addresses of this machine. */
  readonly publicAddress: string | null;
  /** Folder of the built web app; null: serve only the API. */
  readonly webRoot: string | null;
  readonly seedData: string;
  /** Bytes that one request may bring. A hymn has ten thousand. */
  readonly bodyLimit: number;
}

export const BODY_LIMIT = 2 * 1024 * 1024;

/** Reads the settings; throws an Error with one sentence about the first that does not fit. */
export function readConfig(environment: Readonly<Record<string, string | undefined>>): Config {
  const read = Environment.safeParse(environment);
  if (!read.success) {
    const issue = read.error.issues[0];
    const name = issue?.path.join('.') ?? 'A setting';
    throw new Error(`${name} does not fit (${issue?.message ?? 'unreadable'}).`);
  }
  const { HOST, PORT, DATABASE_URL, ALLOWED_HOSTS, PUBLIC_ADDRESS, WEB_ROOT, SEED_DATA } =
    read.data;
  return {
    host: HOST,
    port: PORT,
    databaseUrl: fileUrl(DATABASE_URL),
    allowedHosts: ALLOWED_HOSTS,
    publicAddress: PUBLIC_ADDRESS,
    webRoot: WEB_ROOT,
    seedData: SEED_DATA,
    bodyLimit: BODY_LIMIT,
  };
}

/** A relative database path counts from the project, wherever the program was started. */
function fileUrl(url: string): string {
  const file = url.slice('file:'.length);
  return `file:${isAbsolute(file) ? file : join(ROOT, file)}`;
}
