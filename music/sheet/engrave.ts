import { write } from '../formats/musicxml.ts';
import type { NamedNotes } from '../pitch/note-names.ts';
import type { Score } from '../score/score.ts';
import { BLEED, scaleOf, settings, STACKED, textSizes, type Engraver } from './engraver.ts';
import { chooseBreaks, type BarForBreaking } from './line-breaks.ts';
import { measuresOf, type PageMeasures, type PageRequest, type VerseUnder } from './page.ts';
import { isPickup, isSecondHalf } from '../score/time.ts';
import { phraseEnds } from '../score/phrase-ends.ts';
import { withWordsForAll } from '../score/sung-verses.ts';
import { barEdges, glyphSheet, tidy, type TidySystem } from './tidy.ts';

/** What is engraved: plain data, so that a worker can be sent it and its text can name it in a cache. */
export interface EngraveRequest {
  readonly score: Score;
  /** Of all verses, `score` is printed with those that it has. */
  readonly page: PageRequest & { readonly verse: VerseUnder };
  /** Ids of the voices, missing: all. */
  readonly voices?: readonly string[];
  readonly chords?: boolean;
  /** What chord symbols call notes; missing: `english`. */
  readonly names?: NamedNotes;
  readonly fingers?: boolean;
  /** The tempo at the start is drawn too; missing: a heading says it. */
  readonly opening?: boolean;
  /** Notes and rests can be found in the drawing: `g[data-voice][data-at]`. Missing: they cannot, and it is lighter. */
  readonly places?: boolean;
}

export interface Engraved {
  /** A hidden drawing that the page holds once, before its systems: the outlines that they use. */
  readonly glyphs: string;
  readonly systems: readonly TidySystem[];
}

/** Clef and key before the bars of every line but the first, in the engraver's drawing units. */
function clefAndKey(score: Score): number {
  const signature = Math.max(...score.keys.map((each) => Math.abs(each.signature)));
  return 900 + signature * 200;
}

function versesOf(page: EngraveRequest['page']): { verses?: readonly number[] } {
  return page.verse === 'all' ? {} : { verses: [page.verse] };
}

function musicXml(request: EngraveRequest, breaks: readonly number[]): string {
  const { verse } = request.page;
  const score = verse === 'all' ? request.score : withWordsForAll(request.score, verse);
  return write(score, {
    ...(request.voices ? { voices: request.voices } : {}),
    ...versesOf(request.page),
    chords: (request.chords ?? true) && 'printed',
    fingers: request.fingers ?? true,
    tempo: request.opening ? 'printed' : 'sounding',
    ...(request.names ? { chordNames: request.names } : {}),
    names: false,
    purpose: 'engraving',
    ids: request.places ?? false,
    breaks,
  });
}

function load(engraver: Engraver, xml: string): void {
  if (!engraver.loadData(xml)) throw new Error('the engraver refused the score');
}

/** Whether a screen shows figures of fingers in so many rows that they are set closer. */
function hasStacks({ page, fingers = true, score, voices }: EngraveRequest): boolean {
  if (page.paper || !fingers) return false;
  const shown = score.voices.filter(({ id }) => !voices || voices.includes(id));
  return shown.some(({ notes }) => notes.some((note) => (note.fingers?.length ?? 0) >= STACKED));
}

/** Room that is left free, so that a line's words are never pressed together. */
const SLACK = 0.985;

function breaksFor(score: Score, drawn: string, measures: PageMeasures): number[] {
  const edges = barEdges(drawn);
  const ends = phraseEnds(score);
  const before = edges.get(0);
  const lead = clefAndKey(score);
  const room = (measures.system / scaleOf(measures)) * 10 * SLACK - BLEED.left - BLEED.right;
  const bars = score.bars.map((bar, index): BarForBreaking => {
    const edge = edges.get(index) ?? { from: 0, to: 0 };
    return {
      width: edge.to - edge.from,
      phraseEnd: ends[index] ?? 0,
      partial: isPickup(bar) || isSecondHalf(score, index),
      ends: score.sections.some(({ to }) => to === bar.at + bar.length),
    };
  });
  return before ? chooseBreaks(bars, room, room - lead) : [];
}

/**
 * Engraves a score in lines that fit the page: once in one endless line to learn what each bar needs, then with
 * the best line breaks. The same request gives the same drawing, to the byte.
 */
export function engrave(engraver: Engraver, request: EngraveRequest): Engraved {
  const measures = measuresOf(request.page);
  const areStacked = hasStacks(request);
  engraver.setOptions(settings(measures, 'measure', areStacked));
  load(engraver, musicXml(request, []));
  const breaks = breaksFor(request.score, engraver.renderToSVG(1), measures);
  // One line has no break to be looked for; the engraver would warn of it.
  const oneLine = breaks.length === 0 ? { breaks: 'none' } : {};
  engraver.setOptions({ ...settings(measures, 'engrave', areStacked), ...oneLine });
  load(engraver, musicXml(request, breaks));
  const pages = Array.from({ length: engraver.getPageCount() }, (_, page) =>
    engraver.renderToSVG(page + 1),
  );
  const { systems, glyphs } = tidy(pages, textSizes(measures, areStacked), scaleOf(measures) / 10);
  return { systems, glyphs: glyphSheet(glyphs) };
}
