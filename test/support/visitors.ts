import type { Response } from 'supertest';
import type { MadeSetLink, NewSetLink } from '#server/contract/links.ts';
import type { NewService, Service } from '#server/contract/services.ts';
import type { TestApp } from '#test/support/api.ts';

type Api = TestApp['api'];

/** Invented for the tests; a sentence, as the app asks for. */
export const PASSPHRASE = 'the kettle sings at noon';

/** Headers of a request that another machine made and a program on this one passed on. */
export const ELSEWHERE = { 'x-forwarded-for': '192.168.1.77' };

/** The cookie that an answer gives, with what is said of it. */
export function givenCookie(answer: Response, name: string) {
  const lines = ([] as string[]).concat(answer.headers['set-cookie'] ?? []);
  const line = lines.find((each) => each.startsWith(`${name}=`));
  if (!line) throw new Error(`no cookie ${name} was given`);
  const [pair = '', ...attributes] = line.split('; ');
  return { pair, value: pair.slice(name.length + 1), attributes: attributes.sort() };
}

export async function setPassphrase(api: Api, passphrase = PASSPHRASE): Promise<string> {
  const answer = await api.put('/api/access/passphrase').send({ passphrase }).expect(204);
  return givenCookie(answer, 'partbook-leader').pair;
}

/** The cookie of a new session. */
export async function signIn(api: Api, passphrase = PASSPHRASE): Promise<string> {
  const answer = await api.post('/api/access/session').send({ passphrase }).expect(204);
  return givenCookie(answer, 'partbook-leader').pair;
}

/** A Sunday in a place with summer time. */
export async function addService(api: Api, facts: Partial<NewService> = {}): Promise<Service> {
  const usual = { date: '2026-03-08', time: '10:30', zone: 'Europe/Berlin', title: 'Morning' };
  const answer = await api
    .post('/api/services')
    .send({ ...usual, ...facts })
    .expect(201);
  return answer.body as Service;
}

export async function makeLink(
  api: Api,
  service: string,
  facts: NewSetLink = {},
): Promise<MadeSetLink> {
  const answer = await api.post(`/api/services/${service}/links`).send(facts).expect(201);
  return answer.body as MadeSetLink;
}

/** Exchanges the secret as a telephone does; the cookie. */
export async function openLink(api: Api, { link, secret }: MadeSetLink): Promise<string> {
  const answer = await api
    .post(`/api/set/${link.id}/session`)
    .set(ELSEWHERE)
    .send({ secret })
    .expect(204);
  return givenCookie(answer, 'partbook-set').pair;
}
