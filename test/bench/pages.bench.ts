import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { Agent, get, type IncomingHttpHeaders } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hymn } from '../browser/support/pages.ts';
import { startApp } from '../browser/support/running-app.ts';
import type { Row } from './measure.ts';

const HYMNS = [
  'Abide_With_Me-Eventide',
  'Amazing_Grace-New_Britain',
  'Be_Thou_My_Vision-Slane',
  'Blessed_Assurance-Blessed_Assurance-Assurance',
  'Holy_Holy_Holy-Nicaea',
  'Now_Thank_We_All_Our_God-Nun_Danket',
  'Silent_Night-Stille_Nacht',
  'What_Child_Is_This-Greensleeves',
];
const PEOPLE = [
  ['Ines', ['keys', 'leader']],
  ['Joel', ['bass']],
  ['Mika', ['guitar']],
  ['Tom', ['drums']],
  ['Ada', ['lead voice']],
  ['Ruth', ['harmony voice']],
] as const;
const ROUNDS = 120;
/** Every order of the three works: each follows each other as often, so that none is always met warm. */
const ORDERS = [
  [0, 1, 2],
  [0, 2, 1],
  [1, 0, 2],
  [1, 2, 0],
  [2, 0, 1],
  [2, 1, 0],
] as const;
const LIMIT = 3;

interface Answer {
  readonly bytes: Buffer;
  readonly headers: IncomingHttpHeaders;
  readonly milliseconds: number;
}

/** As a browser asks: one connection that stays open, compressed answers; read to its end. */
export function ask(agent: Agent, url: string): Promise<Answer> {
  const began = process.hrtime.bigint();
  return new Promise((resolve, reject) => {
    const request = get(url, { agent, headers: { 'accept-encoding': 'br' } }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('end', () => {
        const milliseconds = Number(process.hrtime.bigint() - began) / 1e6;
        if (response.statusCode !== 200) reject(new Error(`${url}: ${response.statusCode}`));
        resolve({ bytes: Buffer.concat(chunks), headers: response.headers, milliseconds });
      });
    });
    request.on('error', reject);
  });
}

async function post<T>(url: string, body: unknown): Promise<T> {
  const response = await fetch(url, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error(`${url}: ${response.status} ${await response.text()}`);
  return (await response.json()) as T;
}

/** Eight hymns and six people; the addresses of their pages. */
export async function planService(address: string): Promise<string[]> {
  const api = `${address}/api`;
  const items = [];
  for (const [i, name] of HYMNS.entries()) {
    const song = { format: 'abc', bytes: hymn(name).toString('base64') };
    const { id } = await post<{ id: string }>(`${api}/songs`, song);
    items.push({ id: `item-${i}`, kind: 'song', song: id });
  }
  const people = [];
  for (const [name, roles] of PEOPLE) {
    const comfortable = { low: 'A3', high: 'D5' };
    const { id } = await post<{ id: string }>(`${api}/members`, { name, roles, comfortable });
    people.push({ member: id, roles });
  }
  const service = { title: 'Sunday', date: '2026-11-29', zone: 'Europe/Berlin', items, people };
  const { id } = await post<{ id: string }>(`${api}/services`, service);
  return people.map(({ member }) => `${api}/services/${id}/pages/${member}`);
}

/** What the bare route sets itself: the connection is its own. */
const OWN = new Set(['connection', 'keep-alive', 'date', 'content-length', 'transfer-encoding']);

async function startBare(answers: readonly Answer[]) {
  const folder = mkdtempSync(join(tmpdir(), 'partbook-bare-'));
  for (const [i, { bytes, headers }] of answers.entries()) {
    const sent = Object.entries(headers).filter(([name]) => !OWN.has(name));
    writeFileSync(join(folder, `${i}.bin`), bytes);
    writeFileSync(join(folder, `${i}.json`), JSON.stringify(Object.fromEntries(sent)));
  }
  const here = (file: string) => fileURLToPath(new URL(file, import.meta.url));
  const process_ = spawn(
    process.execPath,
    ['--import', here('./typescript.mjs'), here('./bare-route.ts'), folder],
    { stdio: ['ignore', 'pipe', 'inherit'], env: { ...process.env, NODE_ENV: 'production' } },
  );
  const port = await new Promise<string>((resolve, reject) => {
    process_.once('exit', () => reject(new Error('the bare route did not start')));
    process_.stdout.on('data', (data: Buffer) => {
      const found = /port (\d+)/.exec(data.toString())?.[1];
      if (found !== undefined) resolve(found);
    });
  });
  return {
    urls: answers.map((_, i) => `http://127.0.0.1:${port}/${i}`),
    stop: () => {
      process_.kill('SIGTERM');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

const p50 = (list: readonly number[]) => [...list].sort((a, b) => a - b)[list.length >> 1] ?? NaN;
const rounded = (value: number, places = 2) => value.toFixed(places);

/** Everything one person opens, asked for again and again, against a bare route with the same bytes and headers. */
export async function bench(): Promise<Row[]> {
  const app = await startApp();
  const agent = new Agent({ keepAlive: true, maxSockets: 1 });
  const other = new Agent({ keepAlive: true, maxSockets: 1 });
  try {
    const urls = await planService(app.address);
    const cold: Answer[] = [];
    for (const url of urls) cold.push(await ask(agent, url));
    const bare = await startBare(cold);
    try {
      const times = { yardstick: [] as number[], control: [] as number[], pages: [] as number[] };
      const works = [
        { list: times.yardstick, agent: other, urls: bare.urls },
        { list: times.control, agent: other, urls: bare.urls },
        { list: times.pages, agent, urls },
      ];
      for (let round = -12; round < ROUNDS; round++)
        for (let person = 0; person < urls.length; person++)
          for (const i of ORDERS[(round + 12 + person) % ORDERS.length] ?? []) {
            const work = works[i];
            if (!work) continue;
            const { milliseconds, bytes } = await ask(work.agent, work.urls[person] ?? '');
            if (!bytes.equals(cold[person]?.bytes ?? Buffer.alloc(0)))
              throw new Error('the bytes are not the same');
            if (round >= 0) work.list.push(milliseconds);
          }
      const [own, control, yardstick] = [times.pages, times.control, times.yardstick].map(p50) as [
        number,
        number,
        number,
      ];
      const sizes = cold.map(({ bytes }) => bytes.length / 1024);
      return [
        {
          name: 'everything one person opens (8 songs, 6 people) / bare route, same bytes',
          ratio: own / yardstick,
          limit: LIMIT,
          detail: `p50 ${rounded(own)} ms against ${rounded(yardstick)} ms over loopback; ${rounded(Math.min(...sizes), 0)} to ${rounded(Math.max(...sizes), 0)} KB with br; A/A control ${rounded(control / yardstick)}`,
        },
        {
          name: 'the same the first time, engraver cold / a second',
          ratio: Math.max(...cold.map(({ milliseconds }) => milliseconds)) / 1000,
          limit: null,
          detail: `${PEOPLE.map(([name], i) => `${name} ${rounded((cold[i]?.milliseconds ?? NaN) / 1000)} s`).join(', ')}`,
        },
      ];
    } finally {
      bare.stop();
    }
  } finally {
    agent.destroy();
    other.destroy();
    await app.stop();
  }
}
