import { isAbsolute } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readConfig } from './config.ts';

describe('the settings', () => {
  it('need nothing: this machine only, port 3000, a database in the project', () => {
    const config = readConfig({});
    expect(config).toMatchObject({ host: '127.0.0.1', port: 3000, allowedHosts: [] });
    expect(config.databaseUrl).toMatch(/^file:\/.*\/data\/partbook\.db$/);
    expect(isAbsolute(config.webRoot ?? '')).toBe(true);
  });

  it.each([
    [{ PORT: '4000' }, { port: 4000 }],
    [{ HOST: '0.0.0.0' }, { host: '0.0.0.0' }],
    [{ DATABASE_URL: 'file:/srv/team.db' }, { databaseUrl: 'file:/srv/team.db' }],
    [
      { ALLOWED_HOSTS: 'Team.example, stand.local,' },
      { allowedHosts: ['team.example', 'stand.local'] },
    ],
  ])('take %o', (environment, expected) => {
    expect(readConfig(environment)).toMatchObject(expected);
  });

  it.each([
    [{ PORT: 'http' }, 'PORT'],
    [{ PORT: '70000' }, 'PORT'],
    [{ DATABASE_URL: 'postgres://db' }, 'DATABASE_URL'],
  ])('name the variable that does not fit: %o', (environment, name) => {
    expect(() => readConfig(environment)).toThrow(`${name} does not fit`);
  });
});
