import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import type { PlayedKey } from '../hand/played-key.ts';
import { ofSong } from '../order/lengths.ts';
import type { Ending, Texture } from '../parts/arrangement.ts';
import { of, type OrderInput, type OrderItem } from './order-sheet.ts';

const GRACE = hymn('Amazing_Grace-New_Britain.abc');
const VERSE = GRACE.sections[0]?.id ?? '';

const item = (facts: Partial<OrderItem>): OrderItem => ({
  item: 'i',
  kind: 'other',
  title: '',
  minutes: null,
  note: '',
  wayOn: null,
  lead: null,
  song: null,
  reads: [],
  away: [],
  ...facts,
});

const songItem = (
  facts: Partial<OrderItem> = {},
  textures: readonly (Texture | null)[] = [null, null, null],
  endings: readonly (Ending | null)[] = [],
): OrderItem => {
  const form = textures.map((texture, i) => ({
    section: VERSE,
    verse: i + 1,
    ...(texture ? { texture } : {}),
    ...(endings[i] ? { ending: endings[i] } : {}),
  }));
  const arrangement = {
    key: { tonic: 'F', mode: 'major' },
    tempo: null,
    density: 'bar',
    form,
  } as const;
  return item({
    kind: 'song',
    title: 'Amazing Grace',
    song: { score: GRACE, arrangement },
    ...facts,
  });
};

const sheet = (items: readonly OrderItem[], facts: Partial<OrderInput> = {}) =>
  of({
    title: 'Advent',
    when: 'Sunday, 29 November 2026, 10:30',
    begins: '10:30',
    place: 'The mill',
    items,
    people: [],
    ...facts,
  });

describe('the order of service', () => {
  it('begins each item when the one before is over', () => {
    const { lines, length } = sheet([
      item({ kind: 'talk', title: 'Welcome', minutes: 4 }),
      item({ kind: 'reading', title: 'Isaiah 40', minutes: 3 }),
      item({ kind: 'prayer', minutes: 0 }),
      item({ kind: 'other', minutes: 60 }),
    ]);
    expect(lines.map(({ begins }) => begins)).toEqual(['10:30', '10:34', '10:37', '10:37']);
    expect(length).toBe('about 1 hour 7 minutes');
  });

  it('gives a song the length it has, a begun minute counted, unless a person gave it one', () => {
    const own = songItem();
    const { seconds } = ofSong(GRACE, own.song?.arrangement ?? { tempo: null, form: null });
    const { lines } = sheet([own, songItem({ minutes: 9 }), item({ minutes: 1 })]);
    expect(lines[0]?.minutes).toBe(Math.ceil((seconds ?? 0) / 60));
    expect(lines[1]?.minutes).toBe(9);
    const least = lines[0]?.minutes ?? 0;
    expect(lines[2]?.begins).toBe(`10:${30 + least + 9}`);
  });

  it('knows no time after a length that is not known, and names what is missing', () => {
    const { lines, length } = sheet([
      item({ kind: 'reading', minutes: 2 }),
      item({ kind: 'talk' }),
      item({ kind: 'prayer', title: 'The Lord’s prayer' }),
      songItem({ minutes: 3 }),
    ]);
    expect(lines.map(({ begins }) => begins)).toEqual(['10:30', '10:32', null, null]);
    expect(length).toBe(
      'about 5 minutes; the lengths of the talk and “The Lord’s prayer” are not known',
    );
    expect(sheet([item({ kind: 'talk' })]).length).toBe('no length is known yet');
    expect(sheet([]).length).toBe('nothing stands in the order yet');
  });

  it('goes on past midnight', () => {
    const { lines } = sheet([item({ minutes: 40 }), item({ minutes: 5 })], { begins: '23:40' });
    expect(lines.map(({ begins }) => begins)).toEqual(['23:40', '00:20']);
  });

  it('says key, lead, passes and tempo of a song, and nothing of the kind of a reading', () => {
    const { lines } = sheet([songItem({ lead: 'Ada' }), item({ kind: 'reading' })]);
    expect(lines[0]).toMatchObject({
      key: 'F major',
      lead: 'Ada',
      form: 'introduction once, then verses 1 to 3',
      tempo: 'quarter = 100',
      directions: [],
      onward: '',
    });
    expect(lines[1]).toMatchObject({ key: null, lead: null, form: '', tempo: '' });
  });

  it.each<[readonly (Texture | null)[], string[]]>([
    [[null, 'held', null], []],
    [
      [null, 'held', 'leading', 'every beat'],
      ['verses 1 and 2 held, verse 3 leading on, verse 4 on every beat'],
    ],
    [['every beat', 'every beat', 'every beat'], ['on every beat all through']],
    [['every beat', null], ['verse 1 on every beat, verse 2 held']],
  ])('says how a song builds: %j', (textures, directions) => {
    expect(sheet([songItem({}, textures)]).lines[0]?.directions).toEqual(directions);
  });

  it('says how a song ends', () => {
    const said = (endings: readonly (Ending | null)[]) =>
      sheet([songItem({}, [null, null], endings)]).lines[0]?.directions;
    expect(said([null, 'quiet'])).toEqual(['it ends quietly']);
    expect(said(['broad', null])).toEqual(['verse 1 ends broadly']);
  });

  it('says in which key a song ends, and which verse goes there', () => {
    const plain = songItem();
    const song = plain.song;
    if (!song) throw new Error('a song');
    const raised = (ups: readonly number[]) => {
      const form = ups.map((up, i) => ({ section: VERSE, verse: i + 1, ...(up ? { up } : {}) }));
      const here = { ...song, arrangement: { ...song.arrangement, form } };
      const [line] = sheet([songItem({ song: here })]).lines;
      return [line?.key, line?.form];
    };
    expect(raised([0, 0, 2])).toEqual([
      'F major, at the end G major',
      'introduction once, then verses 1 and 2, verse 3 up a whole step',
    ]);
    expect(raised([0, 1, 0])).toEqual([
      'F major',
      'introduction once, then verse 1, verse 2 up a half step, verse 3',
    ]);
  });

  it('says who reads a song in another key, and how', () => {
    const played: PlayedKey = {
      by: 'capo',
      plays: { tonic: 'D', mode: 'major' },
      sounds: { tonic: 'F', mode: 'major' },
      amount: 3,
      words: 'capo 3: shapes of D, it sounds in F',
      reminder: '',
    };
    const { lines } = sheet([songItem({ reads: [{ name: 'Joel', played }] })]);
    expect(lines[0]?.directions).toEqual(['Joel: capo 3: shapes of D, it sounds in F']);
  });

  it('says who was named to lead and does not serve, and who leads instead', () => {
    const away = [{ name: 'Ruth', leads: 'song' }] as const;
    const directions = (facts: Partial<OrderItem>) => sheet([songItem(facts)]).lines[0]?.directions;
    expect(directions({ away, lead: 'Ada' })).toEqual([
      'Ruth leads this song but does not serve this week: Ada leads instead',
    ]);
    expect(directions({ away: [...away, { name: 'Tom', leads: 'pass' }] })).toEqual([
      'Ruth leads this song but does not serve this week',
      'Tom leads a pass of this song but does not serve this week',
    ]);
  });

  it('names the people and what a missing role means for them', () => {
    const { people, missing } = sheet([], {
      people: [
        { name: 'Ines', roles: ['keys', 'leader'] },
        { name: 'Ada', roles: ['lead voice'] },
        { name: 'a harmony voice', roles: ['harmony voice'] },
      ],
    });
    expect(people).toEqual([
      { name: 'Ines', roles: ['keys', 'leader'] },
      { name: 'Ada', roles: ['lead voice'] },
      // A child's name by a link says what they do, once.
      { name: 'a harmony voice', roles: [] },
    ]);
    expect(missing[0]).toMatch(/^No bass this week/);
  });

  it('gives a song without time no length and no tempo, and its passes all the same', () => {
    const base = songItem();
    const song = base.song && { ...base.song, score: { ...GRACE, untimed: true as const } };
    const [line] = sheet([{ ...base, song }]).lines;
    expect(line).toMatchObject({ minutes: null, tempo: '', form: 'verses 1 to 3' });
  });
});
