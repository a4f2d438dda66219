import { describe, expect, it } from 'vitest';
import { addMember, bringHymn, ownApp } from '#test/support/api.ts';
import { addService, ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

/** A child whose range the tune leaves at both ends, so that a page that knew it would have much to say. */
async function childSings() {
  const { api } = await ownApp();
  const wren = await addMember(api, {
    name: 'Wren',
    child: true,
    comfortable: { low: 'E4', high: 'A4' },
  });
  const song = await bringHymn(api);
  const { id } = await addService(api, {
    items: [{ id: 'i1', kind: 'song', song: song.id }],
    people: [{ member: wren.id, roles: ['harmony voice'], voice: { low: 'F4', high: 'G4' } }],
  });
  const made = await makeLink(api, id, { marksRanges: true });
  const cookie = await openLink(api, made);
  const byLink = await api
    .get(`/api/set/${made.link.id}/pages/${wren.id}`)
    .set(ELSEWHERE)
    .set('cookie', cookie)
    .expect(200);
  const byLeader = await api.get(`/api/services/${id}/pages/${wren.id}`).expect(200);
  return { byLink: JSON.stringify(byLink.body), byLeader: JSON.stringify(byLeader.body) };
}

describe('the pages of a child', () => {
  it('say to the leader where the voice sits, and to whoever holds the link nothing of it', async () => {
    const { byLink, byLeader } = await childSings();
    const said = /sits easily|at the edge|too (?:high|low)/i;
    expect(byLeader).toMatch(said);
    expect(said.exec(byLink)).toBeNull();
    expect(byLink).not.toContain('Wren');
    // What they do is all their name, and stands once in the heading.
    expect(byLeader).toContain('"rubric":"harmony voice, for Wren"');
    expect(byLink).toContain('"rubric":"harmony voice"');
  });
});
