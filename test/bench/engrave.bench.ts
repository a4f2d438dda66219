import { Worker } from 'node:worker_threads';
import { Engraving, Sheets, type EngraveRequest } from '#music';
import { createRenderer } from '#server/render/renderer.ts';
import { makeEngraver, type Engraver } from '#test/support/verovio.ts';
import { partIn, SONG, TWELVE } from './every-part.ts';
import { median, type Row } from './measure.ts';

/** The thread as a start of the built server has it: from source it would be translated first. */
const BUILT = new URL('../../dist/server/engrave-worker.js', import.meta.url);
const HEAP = { maxOldGenerationSizeMb: 160, maxYoungGenerationSizeMb: 16 };
const [COLD, WARM] = [5, 25];

const PART = partIn(SONG, TWELVE[0] ?? { tonic: 'C', mode: 'major' }, {
  id: 'p',
  name: 'Ines',
  role: 'keys',
  level: 'intermediate',
  reach: 12,
  rungs: { right: 3, left: 3, pedal: 1, texture: 6 },
});
/** Another width is another drawing. */
const requestFor = (width: number): EngraveRequest =>
  Sheets.request(PART, { width, textScale: 1, verse: 1 });

interface Asked {
  readonly options: Parameters<Engraver['setOptions']>[0];
  readonly xml: string;
}

/** What the engraver is asked last for a drawing: its final options and the MusicXML with its line breaks. */
function lastAsked(toolkit: Engraver, request: EngraveRequest): Asked {
  let asked: Asked = { options: {}, xml: '' };
  Engraving.engrave(
    {
      setOptions: (options) => {
        asked = { ...asked, options };
        toolkit.setOptions(options);
      },
      loadData: (xml) => {
        asked = { ...asked, xml };
        return Boolean(toolkit.loadData(xml));
      },
      getPageCount: () => toolkit.getPageCount(),
      renderToSVG: (page) => toolkit.renderToSVG(page),
    },
    request,
  );
  return asked;
}

function draw(toolkit: Engraver, { options, xml }: Asked): void {
  toolkit.setOptions(options);
  if (!toolkit.loadData(xml)) throw new Error('the engraver refused the score');
  for (let page = 1; page <= toolkit.getPageCount(); page++) toolkit.renderToSVG(page);
}

async function took(work: () => unknown): Promise<number> {
  const began = process.hrtime.bigint();
  await work();
  return Number(process.hrtime.bigint() - began) / 1e6;
}

const renderer = () =>
  createRenderer({ start: () => new Worker(BUILT, { resourceLimits: HEAP, execArgv: [] }) });
const ratios = (own: readonly number[], bare: readonly number[]) =>
  median(own.map((time, round) => time / (bare[round] ?? NaN)));
const said = (list: readonly number[]) => median(list).toFixed(1);

/** A sheet of the keys from the server's engraver, beside the bare toolkit with the same MusicXML and options. */
export async function bench(): Promise<Row[]> {
  const toolkit = await makeEngraver();
  const cold = { own: [] as number[], bare: [] as number[] };
  for (let round = 0; round < COLD; round++) {
    const request = requestFor(1180 - round);
    const asked = lastAsked(toolkit, request);
    const fresh = renderer();
    cold.own.push(await took(() => fresh.engrave(request)));
    await fresh.close();
    cold.bare.push(await took(async () => draw(await makeEngraver(), asked)));
  }
  const warm = renderer();
  const times = { own: [] as number[], bare: [] as number[], control: [] as number[], kept: [] as number[] }; // prettier-ignore
  await warm.engrave(requestFor(1200));
  for (let round = 0; round < WARM; round++) {
    const request = requestFor(1100 - round);
    const asked = lastAsked(toolkit, request);
    const works = [
      async () => times.bare.push(await took(() => draw(toolkit, asked))),
      async () => times.own.push(await took(() => warm.engrave(request))),
      async () => times.control.push(await took(() => draw(toolkit, asked))),
    ];
    for (const work of round % 2 === 0 ? works : works.reverse()) await work();
    times.kept.push(await took(() => warm.engrave(request)));
  }
  await warm.close();
  return [
    {
      name: 'a sheet of the keys, engraver started for it / bare toolkit, started too',
      ratio: ratios(cold.own, cold.bare),
      limit: null,
      detail: `${said(cold.own)} ms against ${said(cold.bare)} ms; ${PART.score.bars.length} bars, two hands with the tune`,
    },
    {
      name: 'the same, engraver warm / bare toolkit on the same MusicXML',
      ratio: ratios(times.own, times.bare),
      limit: null,
      detail: `${said(times.own)} ms against ${said(times.bare)} ms: measures, breaks lines, draws, tidies; A/A control ${ratios(times.control, times.bare).toFixed(2)}`,
    },
    {
      name: 'the same again, kept / engraver warm',
      ratio: ratios(times.kept, times.own),
      limit: null,
      detail: `${said(times.kept)} ms`,
    },
  ];
}
