/**
 * Who may import whom. Each wall has its reason; `npm run walls` runs them over every .ts and .svelte file, and
 * walls.test.ts plants a violation of each in a tree of its own and expects it to be caught by name.
 */

const TEST = '(\\.test\\.ts$|^test/)';
const packages = (...names) => `(^|node_modules/)(${names.join('|')})(/|$)`;
const MUSIC = '^music/index\\.ts$';
const CONTRACT = '^server/contract/';
const FASTIFY = packages('fastify', 'fastify-plugin', 'fastify-type-provider-zod', '@fastify');
const PRISMA = packages('@prisma', 'prisma', 'better-sqlite3');
const ENGRAVER = packages('verovio');
const ZOD = packages('zod');
const DATE_FNS = packages('date-fns', '@date-fns');
const ARGON2 = packages('@node-rs/argon2');
const ZIP = packages('fflate');
const PDF = packages('pdfkit', '@types/pdfkit');
const SVELTE = packages('svelte');

/** A room and everything it may import; Node's own modules only where `node` says so. */
function room(name, path, allowed, comment, { node = false, pathNot = [] } = {}) {
  return {
    name,
    severity: 'error',
    comment,
    from: { path, pathNot: [TEST, ...pathNot] },
    to: { pathNot: [path, ...allowed], ...(node ? { dependencyTypesNot: ['core'] } : {}) },
  };
}

const music = [
  room(
    'music-is-pure',
    '^music/',
    [packages('tonal', '@tonaljs')],
    'The trade runs on server and tablet alike: no I/O, no clock, no framework, nothing but itself and tonal.',
    { pathNot: ['^music/formats/'] },
  ),
  room(
    'formats-know-the-parser-of-their-format',
    '^music/',
    [packages('tonal', '@tonaljs', 'saxes', 'fflate')],
    'XML and zip are parsed by small, pure packages; the rest of the core does without.',
  ),
  {
    name: 'music-has-one-door',
    severity: 'error',
    comment:
      'Outsiders see what music/index.ts shows, so that the rooms behind it are free to change.',
    from: { path: '^(server|web|prisma)/', pathNot: TEST },
    to: { path: '^music/', pathNot: MUSIC },
  },
  room(
    'pitch-is-the-ground',
    '^music/pitch/',
    ['^music/result\\.ts$', packages('tonal', '@tonaljs')],
    'Imports go down a ladder; pitch, interval, key and chord stand on nothing else.',
  ),
  {
    name: 'score-stands-on-pitch',
    severity: 'error',
    comment: 'A score is music, not what a hand, a voice, a part or a file makes of it.',
    from: { path: '^music/score/', pathNot: TEST },
    to: { path: '^music/(formats|voice|hand|parts|sheet|order|practice|editing|library)/' },
  },
  {
    name: 'editing-knows-only-scores',
    severity: 'error',
    comment: 'What a person does to a song is done to its score; nobody needs to play it yet.',
    from: { path: '^music/editing/', pathNot: TEST },
    to: { path: '^music/(formats|voice|hand|parts|sheet|order|practice|library)/' },
  },
  {
    name: 'formats-know-only-scores',
    severity: 'error',
    comment: 'Text or bytes in, score out, and back: a format knows nothing of people and hands.',
    from: { path: '^music/formats/', pathNot: TEST },
    to: { path: '^music/(voice|hand|parts|sheet|order|practice|editing|library)/' },
  },
  {
    name: 'order-stands-on-parts',
    severity: 'error',
    comment:
      'Lengths, roles and what is known are read from songs and parts; text formats and the fit of voices are not asked again, but by the best order and the least change, which weigh them.',
    from: { path: '^music/order/', pathNot: [TEST, '^music/order/(best|stands)/'] },
    to: { path: '^music/(formats|voice|practice|sheet)/' },
  },
  {
    name: 'best-order-knows-no-page',
    severity: 'error',
    comment: 'The best order weighs voices and hands; what stands on a page follows from it.',
    from: { path: '^music/order/(best|stands)/', pathNot: TEST },
    to: { path: '^music/(formats|practice|sheet)/' },
  },
  {
    name: 'parts-know-no-order',
    severity: 'error',
    comment: 'A part is of one song; what a whole service is made of stands above it.',
    from: { path: '^music/(pitch|score|formats|voice|hand|parts)/', pathNot: TEST },
    to: { path: '^music/order/' },
  },
  {
    name: 'sheet-is-the-top',
    severity: 'error',
    comment:
      'What stands on the page is made from parts; nothing in the core may depend on how it is shown.',
    from: { path: '^music/', pathNot: [TEST, MUSIC, '^music/sheet/'] },
    to: { path: '^music/sheet/' },
  },
];

const server = [
  room(
    'contract-knows-music-and-zod',
    CONTRACT,
    [MUSIC, ZOD],
    'The surface of the API is read by the web too: schemas and types, nothing that only a server has.',
  ),
  room(
    'store-knows-its-rows',
    '^server/store/',
    [MUSIC, PRISMA],
    'The store turns rows into music and back; it knows no requests and no use cases.',
    { node: true, pathNot: ['^server/store/generated/'] },
  ),
  {
    name: 'rooms-are-made-in-one-place',
    severity: 'error',
    comment:
      'store.ts builds the rooms of a team, and builds them on a guarded connection; types may be read anywhere.',
    from: { pathNot: [TEST, '^server/store/store\\.ts$'] },
    to: {
      path: '^server/store/([a-z-]+\\.store|guarded)\\.ts$',
      dependencyTypesNot: ['type-only'],
    },
  },
  {
    name: 'rooms-never-see-the-bare-database',
    severity: 'error',
    comment: 'A room asks its guarded connection, which refuses a question that forgets the team.',
    from: { path: '^server/store/([a-z-]+\\.store|scope)\\.ts$' },
    to: { path: '^server/store/(database\\.ts$|every-team\\.ts$|generated/)' },
  },
  {
    name: 'only-the-store-knows-the-database',
    severity: 'error',
    comment:
      'Scope, versions and locks are kept in one room; a second way to the rows would forget them.',
    from: { pathNot: [TEST, '^server/store/', '^prisma/'] },
    to: { path: [PRISMA, '^server/store/generated/', '^prisma/'] },
  },
  room(
    'services-know-no-http',
    '^server/services/',
    [MUSIC, '^server/(store|contract|render|reading|planning)/', DATE_FNS, ARGON2, ZIP],
    'A use case is music and store, the clocks of a place, the hash of a passphrase, the index of a book and its archive; it answers a test as it answers a request.',
    { node: true },
  ),
  room(
    'routes-are-declarations',
    '^server/routes/',
    ['^server/(services|contract|plugins)/', FASTIFY, ZOD],
    'A route is a schema and a short handler; music and rows are reached through a service.',
  ),
  room(
    'render-knows-music-and-the-engraver',
    '^server/render/',
    [MUSIC, ENGRAVER, PDF, '^server/threads/'],
    'Engraving is work for a thread of its own: a sheet in, drawings out. So is binding: sheets in, a document out.',
    { node: true },
  ),
  room(
    'reading-knows-only-music',
    '^server/reading/',
    [MUSIC, '^server/threads/'],
    'Files of strangers are read in a thread of their own: bytes in, scores out.',
    { node: true },
  ),
  room(
    'planning-knows-only-music',
    '^server/planning/',
    [MUSIC, '^server/threads/'],
    'What takes seconds of computing is done in a thread of its own: songs and people in, plans out.',
    { node: true },
  ),
  room(
    'threads-know-no-work',
    '^server/threads/',
    [],
    'A line of jobs for a thread, with its time limit and its restart, is the same whatever the work is.',
    // It bundles a thread from its source where nothing was built.
    { node: true, pathNot: ['^server/threads/run-source\\.mjs$'] },
  ),
  {
    name: 'server-knows-no-page',
    severity: 'error',
    comment: 'Server and web meet only in the contract.',
    from: { path: '^server/', pathNot: TEST },
    to: { path: '^web/' },
  },
];

const web = [
  {
    name: 'web-enters-only-the-contract',
    severity: 'error',
    comment:
      'Server and web meet only in the contract; anything else would be bundled for the tablet.',
    from: { path: '^web/', pathNot: TEST },
    to: { path: '^(server|prisma)/', pathNot: CONTRACT },
  },
  room(
    'api-knows-contract-and-music',
    '^web/api/',
    [CONTRACT, MUSIC, ZOD],
    'The only room with fetch is thin: what is asked and what is answered.',
  ),
  room(
    'state-has-no-markup',
    '^web/state/',
    [
      '^web/(api|engrave|plan)/',
      CONTRACT,
      MUSIC,
      SVELTE,
      packages('regexparam', 'idb-keyval', 'pitchy'),
    ],
    'State is classes that a test can drive without a screen.',
  ),
  room(
    'engrave-knows-music-and-the-engraver',
    '^web/engrave/',
    [MUSIC, ENGRAVER],
    'The engraver runs in a worker, loaded late; it sees a sheet and nothing of the app.',
  ),
  room(
    'plan-knows-only-music',
    '^web/plan/',
    [MUSIC],
    'What takes a moment of computing runs in a worker: songs and people in, plans out, nothing of the app.',
  ),
  room(
    'parts-know-no-app',
    '^web/parts/',
    // A QR code is drawn from its modules, which a package works out; a picture's scales and curves are others'.
    [CONTRACT, MUSIC, SVELTE, '^web/style/', packages('qrcode', 'd3-scale', 'd3-shape')],
    'A component takes props and gives callbacks: no network, no state of the app.',
  ),
  room(
    'pages-reach-the-network-through-state',
    '^web/pages/',
    // Lines that follow a finger need more than markup: the package is an action on an element.
    ['^web/(state|parts|engrave|style)/', CONTRACT, MUSIC, SVELTE, packages('svelte-dnd-action')],
    'A page is thin markup over state; the network is behind state.',
  ),
  {
    name: 'pages-know-no-sister',
    severity: 'error',
    comment:
      'A page can be changed or thrown away alone; what two pages share is a part or a state.',
    from: { path: '^web/pages/([^/]+)/', pathNot: TEST },
    to: { path: '^web/pages/', pathNot: '^web/pages/$1/' },
  },
  {
    name: 'the-engraver-has-two-rooms',
    severity: 'error',
    comment: 'It is large and under its own licence: one room on the server, one on the tablet.',
    from: { pathNot: [TEST, '^server/render/', '^web/engrave/'] },
    to: { path: ENGRAVER },
  },
];

const everywhere = [
  {
    name: 'no-cycles',
    severity: 'error',
    comment: 'Two files that need each other are one file, or hide a third.',
    from: {},
    to: { circular: true },
  },
  {
    name: 'tests-stay-outside',
    severity: 'error',
    comment: 'What ships does not lean on what proves it.',
    from: { pathNot: [TEST] },
    to: { path: TEST },
  },
];

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [...music, ...server, ...web, ...everywhere],
  options: {
    doNotFollow: { path: ['node_modules', '^server/store/generated/'] },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'svelte', 'browser', 'node', 'default'],
      extensions: ['.ts', '.svelte', '.mjs', '.js'],
    },
  },
};
