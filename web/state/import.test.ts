import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Abc, Midi, MusicXml } from '#music';
import { sayLike, type Double } from './import-double.svelte.ts';
import { importing } from './import.svelte.ts';
import { notices } from './notice.svelte.ts';

const TEXT = 'The Evening Lamp\n\nG      C\nA lamp in the window\n';
const sent: unknown[] = [];
/** What the book has like a song that is asked about. */
let double: object | null = null;

beforeEach(() => {
  sent.length = 0;
  double = null;
  vi.stubGlobal('fetch', (path: string, init: { body: string }) => {
    if (path === '/api/songs/double') return Promise.resolve(Response.json({ double }));
    sent.push(JSON.parse(init.body));
    return Promise.resolve(Response.json({ id: 'lamp' }, { status: 201 }));
  });
  importing.clear();
});

afterEach(() => vi.unstubAllGlobals());

describe('A text of words with chords on its way in', () => {
  it('is read as it stands: its title, its lines, no problem', () => {
    importing.write(TEXT);
    expect(importing.format).toBe('words');
    expect(importing.score?.facts.title).toBe('The Evening Lamp');
    expect(importing.lines.map(({ as }) => as)).toEqual([
      'heading',
      'blank',
      'chords',
      'words',
      'blank',
    ]);
    expect(importing.problems).toEqual([]);
  });

  it('is changed by one tap, and back by the undo', async () => {
    importing.write(TEXT);
    importing.tap(3);
    expect(importing.lines[2]?.as).toBe('words');
    expect(importing.score?.chords).toEqual([]);
    expect(notices.current?.words).toBe('Line 3 is words now.');
    await notices.current?.undo?.();
    expect(importing.lines[2]?.as).toBe('chords');
  });

  it('goes to the server with what was said of it', async () => {
    importing.write(TEXT);
    importing.tap(4, 1);
    expect(await importing.keep()).toBe('lamp');
    expect(sent).toEqual([
      {
        format: 'words',
        text: TEXT,
        answers: {},
        marks: [{ line: 4, column: 1, as: 'chords' }],
      },
    ]);
  });

  it('can be read as ABC instead, which says with a line what is in the way', () => {
    importing.write(TEXT);
    importing.readAs('abc');
    expect(importing.score).toBeNull();
    expect(importing.problems[0]?.line).toBeGreaterThanOrEqual(1);
    importing.readAs('words');
    expect(importing.said).toBeNull();
  });

  it('comes back whole when the page was emptied by mistake', () => {
    importing.write(TEXT);
    importing.tap(3);
    const undo = importing.clear();
    expect(importing.text).toBe('');
    undo();
    expect(importing.text).toBe(TEXT);
    expect(importing.lines[2]?.as).toBe('words');
  });
});

describe('A song like one of the book', () => {
  const key = { tonic: 'G', mode: 'major' };
  const SONG = 'X:1\nT:Lamps\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|cBAG|FEDC|';

  it('is not kept before somebody has seen that it is; then both are', async () => {
    double = { id: 'old', title: 'Lanterns', because: 'melody', key };
    importing.write(SONG);
    expect(await importing.keep()).toBeNull();
    expect([importing.busy, importing.like.found?.title]).toEqual([false, 'Lanterns']);
    expect(sent).toEqual([]);
    expect(await importing.keep()).toBe('lamp');
    expect(sent).toHaveLength(1);
  });

  it('is told by what is the same, with the key where that is another', () => {
    const like = { id: 'old', title: 'Lanterns', because: 'melody', key } as Double;
    expect(sayLike(like, { tonic: 'C', mode: 'major' })).toBe('the same melody, in another key');
    expect(sayLike(like, { tonic: 'G', mode: 'major' })).toBe('the same melody');
    expect(sayLike({ ...like, because: 'first line' }, like.key)).toBe('the same first line');
  });

  it('is asked about once it stands still, and forgotten with the page', async () => {
    vi.useFakeTimers();
    double = { id: 'old', title: 'Lanterns', because: 'title', key };
    importing.write(SONG);
    importing.like.look(importing.score);
    expect(importing.like.found).toBeNull();
    await vi.advanceTimersByTimeAsync(600);
    expect(importing.like.found?.title).toBe('Lanterns');
    importing.clear();
    expect(importing.like.found).toBeNull();
    vi.useRealTimers();
  });
});

describe('A file of ABC on its way in', () => {
  const ABC = 'X:1\nT:Der Mond, s\u00FC\u00DF\nM:4/4\nL:1/4\nK:C\n"C"CDEF|"G"GABc|\n';
  // ISO 8859-1 gives each of these characters the byte of its number.
  const latin1 = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  const take = (bytes: Uint8Array) => importing.take({ name: 'moon.abc', bytes });

  it.each([
    ['Latin-1', latin1(ABC)],
    ['UTF-8', new TextEncoder().encode(ABC)],
    ['UTF-8 with a byte order mark', new TextEncoder().encode(`\uFEFF${ABC}`)],
  ])('in %s goes to the server byte for byte', async (_, bytes) => {
    take(bytes);
    expect(importing.text).toBe(ABC);
    await importing.keep();
    const base64 = Buffer.from(bytes).toString('base64');
    expect(sent).toEqual([{ format: 'abc', bytes: base64, answers: {}, tune: 0 }]);
  });

  it('goes as text once it was changed, and byte for byte again when it is as it was', async () => {
    take(latin1(ABC));
    importing.write(ABC.replace('M:4/4', 'M:C'));
    await importing.keep();
    take(latin1(ABC));
    importing.write('');
    importing.write(ABC);
    await importing.keep();
    expect(sent).toEqual([
      expect.objectContaining({ text: ABC.replace('M:4/4', 'M:C') }),
      expect.objectContaining({ bytes: Buffer.from(latin1(ABC)).toString('base64') }),
    ]);
  });

  it('of words with chords goes as text', async () => {
    take(latin1(TEXT.replace('lamp', 'l\u00E4mp')));
    await importing.keep();
    expect(sent).toEqual([
      expect.objectContaining({ format: 'words', text: TEXT.replace('lamp', 'l\u00E4mp') }),
    ]);
  });
});

describe('A file of MIDI on its way in', () => {
  const hymn = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
  const bytes = hymn.ok && hymn.value[0] ? Midi.write(hymn.value[0]) : new Uint8Array();
  const base64 = Buffer.from(bytes).toString('base64');

  it('is shown as a song; no text stands on the page', () => {
    importing.take({ name: 'grace.mid', bytes });
    expect([importing.format, importing.text, importing.isEmpty]).toEqual(['midi', '', false]);
    expect(importing.score?.facts.title).toBe('Amazing Grace');
    expect(importing.tracks.length).toBeGreaterThan(1);
  });

  it('goes byte for byte, with the track that a person says the tune is in', async () => {
    importing.take({ name: 'grace.mid', bytes });
    await importing.keep();
    importing.take({ name: 'grace.mid', bytes });
    importing.sings(2);
    await importing.keep();
    expect(sent).toEqual([
      { format: 'midi', bytes: base64, answers: {} },
      { format: 'midi', bytes: base64, answers: {}, tune: 2 },
    ]);
    expect(importing.isEmpty).toBe(true);
  });

  it('takes the place of a text that was typed, which comes back by the undo', async () => {
    importing.write(TEXT);
    importing.take({ name: 'grace.mid', bytes });
    expect(notices.current?.words).toContain('in place of the text');
    await notices.undo();
    expect([importing.text, importing.file]).toEqual([TEXT, null]);
  });
});

describe('A pasted text of MusicXML', () => {
  it('is read as what it is', async () => {
    const hymn = Abc.read('X:1\nT:Short\nM:4/4\nL:1/4\nK:G\nGABc|');
    const xml = hymn.ok && hymn.value[0] ? MusicXml.write(hymn.value[0]) : '';
    importing.write(xml);
    expect([importing.format, importing.score?.facts.title]).toEqual(['musicxml', 'Short']);
    await importing.keep();
    expect(sent).toEqual([{ format: 'musicxml', text: xml, answers: {} }]);
  });
});

describe('A file that is broken', () => {
  it('is told so in its own format, and is not shown as text', () => {
    importing.take({ name: 'zeros.mid', bytes: new Uint8Array(100) });
    expect([importing.format, importing.text, importing.score]).toEqual(['midi', '', null]);
    expect(importing.problems[0]?.message).toMatch(/^This is not a MIDI file/);
  });
});

describe('A file without a title', () => {
  const bare = 'X:1\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|]\n';
  const take = (name: string, text = bare) =>
    importing.take({ name, bytes: new TextEncoder().encode(text) });

  it('is called as the file is, and goes to the server so', async () => {
    take('The_Evening_Lamp.abc');
    expect([importing.isNameless, importing.score?.facts.title]).toEqual([
      true,
      'The Evening Lamp',
    ]);
    await importing.keep();
    expect(sent).toEqual([expect.objectContaining({ format: 'abc', title: 'The Evening Lamp' })]);
  });

  it('is called as a person says; who says nothing leaves it the name of the file', async () => {
    take('lamp.abc');
    importing.called = ' Lamps of Evening ';
    expect(importing.score?.facts.title).toBe('Lamps of Evening');
    importing.called = ' ';
    expect(importing.score?.facts.title).toBe('lamp');
    importing.called = 'Lamps of Evening';
    await importing.keep();
    expect(sent).toEqual([expect.objectContaining({ title: 'Lamps of Evening' })]);
    take('other.abc');
    expect(importing.score?.facts.title).toBe('other');
  });

  it('comes back with the title that a person gave it when the page was emptied by mistake', () => {
    take('lamp.abc');
    importing.called = 'Lamps of Evening';
    importing.clear()();
    expect(importing.score?.facts.title).toBe('Lamps of Evening');
  });

  it('that has one keeps its own, and none is sent beside it', async () => {
    take('lamp.abc', bare.replace('X:1', 'X:1\nT:Evening'));
    importing.called = 'Morning';
    expect([importing.isNameless, importing.score?.facts.title]).toEqual([false, 'Evening']);
    await importing.keep();
    expect(sent).toEqual([expect.not.objectContaining({ title: expect.anything() as string })]);
  });
});
