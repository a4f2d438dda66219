/** What a field is called by the people who fill it in, and what it must be. */
type FieldWords = readonly [name: string, must: string];

const ROLES = 'keys, bass, guitar, drums, lead voice, harmony voice or leader';
const KEY_NOTE: FieldWords = ['The key note', 'a letter from A to G, with # or b where it has one'];
const MODE: FieldWords = [
  'The mode',
  'major, minor, dorian, phrygian, lydian, mixolydian or locrian',
];
const KEY: FieldWords = ['The key', 'a key note and a mode, such as F and major'];
const DENSITY: FieldWords = ['How often the chord changes', '“bar”, “half bar”, “beat” or “alone”'];
const LAYER = 'words, translation, tune or arrangement';
const YEAR = 'a year from 1 to 2200, or nothing';
const LEVEL: FieldWords = ['The rung', 'beginner, intermediate or advanced'];

const passes = (form: string): Record<string, FieldWords> => ({
  [form]: ['The form', 'a list of 1 to 60 passes, or nothing where it is as usual'],
  [`${form}.*`]: ['A pass of the form', 'a section of the song and its verse'],
  [`${form}.*.section`]: ['The section of a pass', 'a section of the song'],
  [`${form}.*.verse`]: ['The verse of a pass', 'a number from 1 to 99, or nothing'],
  [`${form}.*.texture`]: [
    'The texture of a pass',
    'held, answered, leading, every beat, swaying or broken',
  ],
  [`${form}.*.ending`]: ['The ending of a pass', 'quiet or broad, or missing where it has none'],
  [`${form}.*.lead`]: ['Who leads a pass', 'a member, or missing where it is as usual'],
});

const people = (room: string): Record<string, FieldWords> =>
  Object.fromEntries(
    ['women', 'men', 'women over 65', 'men over 65', 'children'].map((group) => [
      `${room}.${group}`,
      [`The number of ${group}`, 'a whole number from 0 to 10,000'],
    ]),
  );

/** By the path of the field; `*` stands for any place of a list. */
const SENT: Readonly<Record<string, FieldWords>> = {
  name: ['The name', 'of 1 to 80 letters'],
  congregation: [
    'The voice of the congregation',
    'a guideline that is on the list, a lowest and a highest note, or nothing where it is as usual',
  ],
  'congregation.low': ['The lowest note of the congregation', 'a pitch such as A3'],
  'congregation.high': ['The highest note of the congregation', 'a pitch such as D5'],
  room: [
    'Who is in the room',
    'numbers of women, men, women over 65, men over 65 and children, or nothing where it is as usual',
  ],
  ...people('room'),
  roles: ['The roles', `a list of at most 7, each of them ${ROLES}`],
  'roles.*': ['A role', ROLES],
  level: LEVEL,
  reach: ['The reach of a hand', 'a whole number of half steps from 5 to 19'],
  comfortable: ['The comfortable range', 'a lowest and a highest note, or nothing where unknown'],
  rangeMarkedAt: ['When the range was marked', 'a day and time such as 2026-03-03T10:00:00Z'],
  'comfortable.low': ['The lowest comfortable note', 'a pitch such as A3'],
  'comfortable.high': ['The highest comfortable note', 'a pitch such as D5'],
  limit: ['The furthest range', 'a lowest and a highest note, or nothing where unknown'],
  'limit.low': ['The furthest low note', 'a pitch such as F3'],
  'limit.high': ['The furthest high note', 'a pitch such as F5'],
  child: ['Whether the member is a child', 'yes or no (true or false)'],
  format: ['The format of the song', 'abc, words, musicxml, midi or written'],
  score: ['The music', 'a song as this app writes it'],
  text: [
    'The song',
    'brought as text, as a file or as music that was written here, and one of them',
  ],
  bytes: ['The file of the song', 'there, written in base64'],
  tune: ['The number of the tune in the file', 'a whole number; the first tune is 0'],
  answers: ['The answers', 'given by name, such as the key'],
  'answers.key': KEY,
  'answers.key.tonic': KEY_NOTE,
  'answers.key.mode': MODE,
  key: KEY,
  'key.tonic': KEY_NOTE,
  'key.mode': MODE,
  chord: ['The chord', 'a place in the song with a symbol such as Am7/G, or with no chord'],
  tempo: ['The tempo', 'a counted note and how many of it a minute, or nothing'],
  'tempo.beat': [
    'The counted note of the tempo',
    'a whole, half, quarter, eighth or sixteenth note, plain or dotted',
  ],
  'tempo.perMinute': ['The tempo', 'from 10 to 400 beats a minute'],
  density: DENSITY,
  lead: ['Who leads the singing', 'a member or nobody'],
  singers: ['The singers', 'a list of at most 40 members'],
  'singers.*': ['A singer', 'a member'],
  player: ['Who plays the keys', 'a member or nobody'],
  ...passes('form'),
  'instruments.capo': ['The highest fret of the capo', '0, 5 or 7'],
  'instruments.bassStrings': ['The strings of the bass', '4 or 5'],
  'instruments.transposeButton': ['Whether the keyboard transposes', 'yes or no (true or false)'],
  title: ['The title', 'of 1 to 120 letters'],
  date: ['The date', 'a day of the calendar such as 2026-11-29'],
  time: ['The time', 'hours and minutes on a clock, such as 10:30'],
  zone: ['The time zone', 'named like Europe/Berlin'],
  place: ['The place', 'of at most 120 letters'],
  from: ['The service to begin with', 'one of the team’s'],
  items: ['The order', 'a list of at most 100 lines'],
  'items.*': ['A line of the order', 'one with an id and a kind'],
  'items.*.id': ['The id of a line', 'of 1 to 40 letters'],
  'items.*.kind': ['The kind of a line', 'song, reading, prayer, talk or other'],
  'items.*.title': ['The title of a line', 'of at most 120 letters'],
  'items.*.minutes': ['The length of a line', 'whole minutes from 0 to 240, or nothing'],
  'items.*.note': ['The note of a line', 'of at most 500 letters'],
  'items.*.song': ['The song of a line', 'a song or nothing'],
  'items.*.key': KEY,
  'items.*.key.tonic': KEY_NOTE,
  'items.*.key.mode': MODE,
  'items.*.lead': ['Who leads a line', 'a member or nobody'],
  'items.*.playedIn': ['The keys that people play in', 'a key note for each member'],
  'items.*.rungs': ['What people play at the keys', 'steps of the ladders for each member'],
  ...passes('items.*.form'),
  people: ['The people of the service', 'a list of at most 60'],
  'people.*': ['Somebody of the service', 'a member with their roles'],
  'people.*.member': ['Somebody of the service', 'a member'],
  'people.*.roles': ['The roles', `a list of at most 7, each of them ${ROLES}`],
  'people.*.roles.*': ['A role', ROLES],
  'people.*.voice': [
    'The voice of this week',
    'a lowest and a highest note, or nothing if as usual',
  ],
  'people.*.voice.low': ['The lowest note of this week', 'a pitch such as A3'],
  'people.*.voice.high': ['The highest note of this week', 'a pitch such as D5'],
  demo: ['What becomes of the demo', '“offered”, “kept” or “cleared”'],
  privateNote: ['The private note', 'of at most 4000 letters'],
  details: ['The facts of the song', 'given by name, such as the first line'],
  'details.firstLine': ['The first line', 'of at most 500 letters, or nothing'],
  'details.hymnMeter': ['The hymn meter', 'of at most 80 letters such as 8.6.8.6, or nothing'],
  'details.people': ['The people of the song', 'a list of at most 20'],
  'details.people.*.layer': ['What somebody made', LAYER],
  'details.people.*.name': ['A name', 'of 1 to 120 letters'],
  'details.people.*.born': ['A year of birth', YEAR],
  'details.people.*.died': ['A year of death', YEAR],
  'details.people.*.year': ['The year in which it was made', YEAR],
  'details.themes': ['The themes', 'a list of at most 30'],
  'details.themes.*': ['A theme', 'of 1 to 60 letters'],
  'details.scripture': ['The places of the Bible', 'a list of at most 30'],
  'details.scripture.*': ['A place of the Bible', 'one such as Psalm 23:1–6'],
  'details.language': ['The language of the words', 'a tag such as en or de, or nothing'],
  'details.rights': ['The rights', 'a list with one entry for each layer'],
  'details.rights.*.layer': ['What rights are said of', LAYER],
  'details.rights.*.status': ['The rights', 'public domain, protected, our own or not known'],
  'details.rights.*.holder': ['Who holds the rights', 'of at most 200 letters'],
  'details.rights.*.licence': ['The number of the licence', 'of at most 80 letters'],
  'details.rights.*.reason': ['The reason', 'of at most 500 letters'],
  'details.rights.*.where': ['Where that holds', 'of at most 200 letters'],
  files: ['The files', 'a list of 1 to 100'],
  'files.*.name': ['The name of a file', 'of 1 to 300 letters'],
  'files.*.bytes': ['A file', 'written in base64, and of at most nine megabytes'],
  doubles: ['What happens to songs that are in the book', '“leave” or “bring”'],
  passphrase: [
    'The passphrase',
    'of 15 to 200 characters, such as a sentence only you would write',
  ],
  current: ['The passphrase until now', 'of at most 200 characters'],
  secret: ['The secret of the link', 'what stands behind the # of its address, whole'],
  marksRanges: ['Whether comfortable ranges may be marked', 'yes or no (true or false)'],
  endsAt: ['When the link ends', 'a date and a time in UTC, such as 2026-11-30T23:00:00Z'],
  revoked: ['Whether the link is taken back', 'yes or no (true or false)'],
};

/** What is secret is never said again. */
const SECRET = new Set(['passphrase', 'current', 'secret']);

const ASKED: Readonly<Record<string, FieldWords>> = {
  role: ['The role', ROLES],
  level: LEVEL,
  key: ['The key', 'written as people write it: F, Bb, F# minor'],
  density: DENSITY,
  player: ['The player', 'a member'],
  width: ['The width of the page', 'a whole number of CSS pixels from 320 to 2560'],
  text: ['The size of the words', 'from 0.6 to 2, where 1 is the usual size'],
  verse: ['The verse', 'a number from 1 to 99, or “all”'],
  v: ['The version', 'a whole number'],
  deleted: ['Whether deleted ones are listed', '0 or 1'],
  singers: ['The singers', 'ids of members with commas between'],
  q: ['What is looked for', 'of at most 200 letters'],
  meter: ['The meter', 'one such as 3/4, or “free”'],
  hymnMeter: ['The hymn meter', 'of at most 80 letters such as 8.6.8.6 or CM'],
  theme: ['The theme', 'of at most 60 letters'],
  book: ['The book of the Bible', 'of at most 40 letters such as Psalms'],
  language: ['The language', 'a tag such as en'],
  slowest: ['The slowest tempo', 'a whole number of felt beats a minute from 10 to 400'],
  fastest: ['The fastest tempo', 'a whole number of felt beats a minute from 10 to 400'],
  low: ['The lowest note', 'a pitch such as A3'],
  high: ['The highest note', 'a pitch such as D5'],
  accidentals: ['The most sharps or flats', 'a whole number from 0 to 7'],
  rested: ['How long a song has rested', 'a whole number of weeks from 0 to 1000'],
  order: ['The order', 'best, title or rested'],
  from: ['Where the list begins', 'a whole number; the first song is 0'],
  most: ['How many songs are listed', 'a whole number from 1 to 500'],
  notes: ['The notes', 'pitches with commas between, such as D4,G4,B4'],
  as: ['The kind of file', 'musicxml, mxl, abc, midi or words'],
  congregation: ['The range of the congregation', 'a guideline that is on the list, or “none”'],
};

/** Longer than this a value is not said again. */
const QUOTED = 30;

function valueAt(sent: unknown, path: readonly string[]): unknown {
  return path.reduce<unknown>((value, step) => {
    if (typeof value !== 'object' || value === null) return undefined;
    return Object.getOwnPropertyDescriptor(value, step)?.value;
  }, sent);
}

/** What was there instead, as the end of a sentence; nothing where saying it would not help. */
function instead(value: unknown): string {
  if (typeof value === 'number' || typeof value === 'boolean') return `; ${value} is not`;
  if (typeof value !== 'string' || value.trim() === '' || value.length > QUOTED) return '';
  return `; “${value}” is not`;
}

/**
 * What is wrong with a field, in the words of those who fill it in: `The lowest comfortable note must be a
 * pitch such as A3; “H9” is not.`
 * @param where `body`, `querystring`, `params` or `headers`, where the field stands in the request
 */
export function sayField(where: string, path: readonly string[], sent: unknown): string {
  if (path.length === 0) {
    const empty = typeof sent === 'object' && sent !== null && Object.keys(sent).length === 0;
    return empty ? 'Nothing was named that should change.' : 'What was sent is not what fits here.';
  }
  const pattern = path.map((step) => (/^\d+$/.test(step) ? '*' : step)).join('.');
  const words = (where === 'querystring' ? ASKED : SENT)[pattern];
  const value = SECRET.has(pattern) ? undefined : valueAt(sent, path);
  if (!words) return `What was sent as “${path.join('.')}” does not fit here${instead(value)}.`;
  const [name, must] = words;
  return `${name} must be ${must}${instead(value)}.`;
}
