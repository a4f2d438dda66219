import { describe, expect, it } from 'vitest';
import type { PersonPages } from '#server/contract/pages.ts';
import { Packet } from './pages.svelte.ts';

function packetOf(name: string, roles: PersonPages['person']['roles']): Packet {
  const packet = new Packet({ link: 'abc' }, 'person');
  packet.current = {
    service: { date: '2026-11-29' },
    person: { id: 'person', name, roles },
    pages: [{ kind: 'none', item: 'one', title: 'New Britain', role: roles[0], reason: '' }],
  } as unknown as PersonPages;
  return packet;
}

describe('The pages on paper say whose they are', () => {
  it('by the name, with the day', () => {
    const packet = packetOf('Ruth', ['lead voice']);
    expect(packet.dated).toBe('for Ruth, Sunday, 29 November 2026');
    expect(packet.running).toEqual([
      { left: 'New Britain, for Ruth', right: 'Sunday, 29 November 2026' },
    ]);
  });

  it.each([
    ['a harmony voice', ['harmony voice'], 'harmony voice'],
    ['keys player 2', ['keys'], 'keys player 2'],
  ] as const)('of %s by the work, once, as of nobody by name', (name, roles, work) => {
    const packet = packetOf(name, [...roles]);
    expect(packet.dated).toBe('Sunday, 29 November 2026');
    expect(packet.running[0]?.left).toBe(`New Britain, ${work}`);
  });

  it('not before they are there', () => {
    expect(new Packet({ link: 'abc' }, 'person').running).toEqual([]);
  });
});
