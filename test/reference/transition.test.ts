import { describe, expect, it } from 'vitest';
import { ChordSymbol, Keys, Transition, type Key } from '#music';

const key = (text: string): Key => {
  const read = Keys.readKey(text);
  if (!read) throw new Error(`no key ${text}`);
  return read;
};
const C = key('C');

/** Chords that C major shares with other keys, worked out by hand from the definition in Open Music Theory, "Modulation". */
const SHARED: readonly (readonly [string, number, string])[] = [
  ['G', 4, 'C I=IV · Em iii=vi · G V=I · Am vi=ii'],
  ['F', 4, 'C I=V · Dm ii=vi · F IV=I · Am vi=iii'],
  ['D', 2, 'Em iii=ii · G V=IV'],
  ['Bb', 2, 'Dm ii=iii · F IV=V'],
  ['Em', 4, 'C I=VI · Em iii=i · G V=III · Am vi=iv'],
  ['Dm', 4, 'C I=VII · Dm ii=i · F IV=III · Am vi=v'],
];

describe('Chords that two keys share', () => {
  it.each(SHARED)('C major and %s: %i', (to, count, roles) => {
    const pivots = Transition.pivotsBetween(C, key(to));
    expect(pivots).toHaveLength(count);
    const said = pivots.map(
      (each) => `${ChordSymbol.say(each.chord)} ${each.from.role}=${each.to.role}`,
    );
    expect(said.sort()).toEqual(roles.split(' · ').sort());
  });

  it.each(['A', 'Eb', 'E', 'Ab', 'B', 'Db', 'F#'])('C major and %s: none', (to) => {
    expect(Transition.pivotsBetween(C, key(to))).toEqual([]);
  });

  it('are all seven with the relative key', () => {
    expect(Transition.pivotsBetween(C, key('Am'))).toHaveLength(7);
  });

  it('are four with each of the five closely related keys but the relative one (waybuilder.net, 16-1)', () => {
    for (const near of ['F', 'G', 'Dm', 'Em'])
      expect(Transition.pivotsBetween(C, key(near))).toHaveLength(4);
  });
});

describe('From song to song', () => {
  const edge = (text: string, perMinute = 90) => ({
    key: key(text),
    tempo: { beat: 20160, perMinute },
  });
  const ways = (from: string, to: string) =>
    Transition.between(edge(from), edge(to)).ways.map(({ kind, chords }) => [
      kind,
      chords.map(ChordSymbol.say).join(' '),
    ]);

  it('goes straight on where the key stays', () => {
    expect(ways('F', 'F').map(([kind]) => kind)).toEqual(['straight on', 'loop']);
  });

  it('from C to G goes by A minor, which is ii there', () => {
    expect(ways('C', 'G')).toContainEqual(['common chord', 'Am D7']);
    expect(ways('C', 'G')).toContainEqual(['dominant', 'D7']);
    expect(ways('C', 'G')).toContainEqual(['held bass', 'D7/C']);
    expect(ways('C', 'G')).toContainEqual(['loop', 'C F D7']);
  });

  it('from G to A steps up, and has a chord in both', () => {
    expect(ways('G', 'A')).toContainEqual(['step up', '']);
    expect(ways('G', 'A')).toContainEqual(['common chord', 'Bm E7']);
  });

  it('has no common chord where there is none', () => {
    expect(ways('C', 'A').map(([kind]) => kind)).not.toContain('common chord');
  });

  it('holds a bass note that both have in every pair of keys where one is', () => {
    for (const from of Keys.keysToOffer('major'))
      for (const to of Keys.keysToOffer('major')) {
        const held = Transition.between(
          { key: from, tempo: null },
          { key: to, tempo: null },
        ).ways.find(({ kind }) => kind === 'held bass');
        if (!held) continue;
        const [first] = held.chords;
        const bass = first?.bass ?? first?.root ?? '';
        const sounds = ChordSymbol.pitchClassesOf({
          root: bass,
          kind: 'major',
          degrees: [],
          bass: null,
        })[0];
        const old = Keys.scaleOf(from);
        const classes = [old[0], old[4]].map(
          (note) =>
            ChordSymbol.pitchClassesOf({
              root: note ?? '',
              kind: 'major',
              degrees: [],
              bass: null,
            })[0],
        );
        expect(classes).toContain(sounds);
      }
  });

  it('bridges tempos by small ratios', () => {
    const { tempo } = Transition.between(edge('C', 72), edge('C', 96));
    expect(tempo.ratio).toEqual([3, 4]);
    expect(Transition.between(edge('C', 90), edge('C', 92)).tempo.words).toBe('the beat stays');
    expect(Transition.between(edge('C', 60), edge('C', 110)).tempo.ratio).toBeNull();
  });
});
