import { describe, expect, it } from 'vitest';
import { Congregation, GUIDELINE_IDS, Pitches, Room } from '#music';

/**
 * Each figure as its own source prints it; null: the source names no note there. `own` is the range that the room is
 * given, the open end taken from the committee.
 */
const PUBLISHED = [
  {
    id: 'psalter-committee',
    // Psalter hymnal committee of the United Reformed Churches, quoted at burlingtonurc.wordpress.com, 17 June 2011:
    // no higher than D5, no lower than A3.
    low: 'A3',
    high: 'D5',
    own: ['A3', 'D5'],
    source: /burlingtonurc\.wordpress\.com, 17 June 2011/,
    weight: 'committee',
  },
  {
    id: 'average-assembly',
    // trio-praise.com: an average assembly sings A3 to D5. One practitioner.
    low: 'A3',
    high: 'D5',
    own: ['A3', 'D5'],
    source: /trio-praise\.com/,
    weight: 'one practitioner',
  },
  {
    id: 'upper-limit-d',
    // A hymnologist reported at praytellblog.com, 31 July 2015: D is generally the upper limit, with very little E.
    low: null,
    high: 'D5',
    own: ['A3', 'D5'],
    source: /praytellblog\.com, 31 July 2015/,
    weight: 'expert, reported',
  },
  {
    id: 'as-printed',
    // danielharper.org on Unitarian Universalist hymnals: typically C4 to E♭5.
    low: 'C4',
    high: 'Eb5',
    own: ['C4', 'Eb5'],
    source: /danielharper\.org/,
    weight: 'one practitioner',
  },
  {
    id: 'one-octave',
    // hohmandoperis.blogspot.com, attributing it to a pastor: C4 to C5 for all voices.
    low: 'C4',
    high: 'C5',
    own: ['C4', 'C5'],
    source: /hohmandoperis\.blogspot\.com/,
    weight: 'one practitioner',
  },
  {
    id: 'over-sixty-five',
    // Moore, Staum & Brotons 1992, Journal of Music Therapy 29 (4), 236–252, abstract: 514 people over 65, mean range
    // 19 semitones, F3 to C5 for women.
    low: 'F3',
    high: 'C5',
    own: ['F3', 'C5'],
    source: /Moore, Staum & Brotons 1992, Journal of Music Therapy 29 \(4\), 236–252/,
    weight: 'study',
  },
] as const;

describe('The guidelines of congregations', () => {
  it('are those that were found, and no others', () => {
    expect(Congregation.GUIDELINES.map(({ id }) => id)).toEqual(PUBLISHED.map(({ id }) => id));
    expect([...GUIDELINE_IDS]).toEqual(PUBLISHED.map(({ id }) => id));
  });

  it.each(PUBLISHED)('$id: $low to $high', ({ id, low, high, own, source, weight }) => {
    const guideline = Congregation.requireGuideline(id);
    expect(guideline).toMatchObject({ low, high, weight });
    expect(guideline.source).toMatch(source);
    expect(guideline.words).toContain(high.replace('b', '♭'));
    const range = { low: own[0], high: own[1] };
    expect(Congregation.voice(id).comfortable).toEqual(range);
    const lent = low === null ? 'low' : null;
    expect(Congregation.chosen(id)).toMatchObject({ range, guideline, lent });
  });

  it('start from the committee’s; a range of one’s own is nobody else’s words', () => {
    expect(Congregation.chosen(null)).toEqual(Congregation.chosen('psalter-committee'));
    const range = { low: 'Bb3', high: 'C5' };
    const own = { range, guideline: null, whose: 'as you set it', lent: null };
    expect(Congregation.chosen(range)).toEqual(own);
  });
});

describe('The groups of a room', () => {
  const of = (id: Room.RoomGroupId): Room.RoomGroup => {
    const group = Room.ROOM_GROUPS.find((each) => each.id === id);
    if (!group) throw new Error(`no ${id}`);
    return group;
  };

  it.each([
    // Moore, Staum & Brotons 1992 (abstract): F3 to C5 for women over 65, 19 half steps; men nearly an octave lower.
    ['women over 65', Pitches.midiOf('F3'), Pitches.midiOf('C5'), /Moore, Staum & Brotons 1992/],
    ['men over 65', Pitches.midiOf('F2'), Pitches.midiOf('C4'), /Moore, Staum & Brotons 1992/],
    // forum.musicasacra.com 2439, an elementary specialist: a class in practice D4 to D5.
    ['children', Pitches.midiOf('D4'), Pitches.midiOf('D5'), /forum\.musicasacra\.com 2439/],
  ] as const)('%s have the published ends', (id, low, high, source) => {
    expect(of(id)).toMatchObject({ low, high });
    expect(of(id).source).toMatch(source);
  });

  it.each([
    // A survey among 31 adults (lesswrong.com RDYQpqbiLYhyynkRC): median 21 half steps, two clusters of centres, near
    // F3 and E♭4. That they are men and women is our reading.
    ['women', 'Eb4'],
    ['men', 'F3'],
  ] as const)('%s have 21 half steps round %s', (id, centre) => {
    const { low, high, source } = of(id);
    expect(high - low).toBe(21);
    expect((low + high) / 2).toBe(Pitches.midiOf(centre));
    expect(source).toMatch(/31 adults.*RDYQpqbiLYhyynkRC/);
  });
});
