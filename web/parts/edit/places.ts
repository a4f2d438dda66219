import type { Bar, ChordAt, Engraved, Score, Section, Ticks } from '#music';

/** A place in a drawing, CSS px from the top left of the music. */
export interface Caret {
  readonly left: number;
  readonly width: number;
  readonly top: number;
  readonly bottom: number;
}

/** What was pointed at: a note or rest of a voice. */
export interface Place {
  /** Index of the voice in the score. */
  readonly voice: number;
  readonly at: Ticks;
}

/** Room left and right of a note that the cursor stands on, and above and below the staff, CSS px. */
export const SIDE = 4;
const BEYOND = { above: 7, below: 12 };

const rectOf = (element: Element): DOMRect => element.getBoundingClientRect();

/** The heads and signs of a note, without the words under it. */
function headsOf(place: Element): { left: number; right: number } {
  const heads = [...place.children].filter(({ tagName }) => tagName === 'use').map(rectOf);
  if (heads.length === 0) return rectOf(place);
  return {
    left: Math.min(...heads.map(({ left }) => left)),
    right: Math.max(...heads.map(({ right }) => right)),
  };
}

function placesOf(root: Element, voice: number): SVGGElement[] {
  return [...root.querySelectorAll<SVGGElement>(`.place[data-voice="${voice}"]`)];
}

const atOf = (element: SVGGElement): Ticks => Number(element.dataset['at']);
const voiceIn = (element: SVGGElement): number => Number(element.dataset['voice']);

/** The five lines of the staff that a note stands on. */
function staffLines(place: Element): { top: number; bottom: number; left: number; right: number } {
  const staff = place.closest('.staff') ?? place;
  const lines = [...staff.children].filter(({ tagName }) => tagName === 'path').slice(0, 5);
  const [first, last] = [lines[0] ?? staff, lines.at(-1) ?? staff].map(rectOf) as [
    DOMRect,
    DOMRect,
  ];
  return { top: first.top, bottom: last.bottom, left: first.left, right: first.right };
}

/** Where the notes of a bar begin: after what stands before them on the staff (clef, key, meter). */
function leadOf(place: Element, left: number): number {
  const staff = place.closest('.staff');
  const signs = [...(staff?.children ?? [])].filter(({ tagName }) => tagName === 'use');
  return Math.max(left, ...signs.map((sign) => rectOf(sign).right)) + 10;
}

/** How wide the cursor is where no head stands, CSS px. */
const THIN = 12;

export const measureAt = (root: Element, bar: number): SVGGElement | null =>
  root.querySelector<SVGGElement>(`.measure[data-bar="${bar}"]`);

/** Moments of a bar and how far right they are drawn, in order. */
type Anchors = readonly (readonly [at: Ticks, x: number])[];

/** A rest that fills its bar is drawn in the middle of it, and begins at its start all the same. */
function fills(bar: Bar, place: SVGGElement, measure: Element): boolean {
  const voice = placesOf(measure, voiceIn(place));
  return voice.length === 1 && headsOf(place).left > leadOf(place, 0) + THIN && atOf(place) === bar.at; // prettier-ignore
}

/** Where the notes, the chords between them and the end of a bar are drawn. */
export function anchorsOf(measure: SVGGElement, score: Score): Anchors {
  const index = Number(measure.dataset['bar']);
  const bar = score.bars[index];
  const places = [...measure.querySelectorAll<SVGGElement>('.place')];
  if (!bar || !places[0]) return [];
  const staff = staffLines(places[0]);
  const x = new Map<Ticks, number>([[bar.at + bar.length, staff.right]]);
  for (const place of places) {
    const left = fills(bar, place, measure) ? leadOf(place, staff.left) : headsOf(place).left;
    x.set(atOf(place), Math.min(x.get(atOf(place)) ?? Infinity, left));
  }
  const symbols = [...measure.querySelectorAll('.harm')].map(rectOf);
  chordsOf(score, index).forEach(({ at }, i) => {
    const symbol = symbols[i];
    if (symbol && !x.has(at)) x.set(at, symbol.left);
  });
  if (!x.has(bar.at)) x.set(bar.at, leadOf(places[0], staff.left));
  return [...x].sort(([a], [b]) => a - b);
}

/** A moment between two that are drawn stands between them in proportion. */
export function across(anchors: Anchors, at: Ticks): number {
  const next = anchors.findIndex(([moment]) => moment > at);
  const [from, to] = [anchors[next < 0 ? anchors.length - 1 : next - 1], anchors[next]];
  if (!from) return to?.[1] ?? 0;
  if (!to) return from[1];
  return from[1] + ((to[1] - from[1]) * (at - from[0])) / (to[0] - from[0]);
}

/**
 * Where the cursor stands in a drawing: on a note, or thin on a beat under one that is held or in a rest; null where the
 * place is not drawn.
 * @param root holds the drawn lines; places are from its top left
 */
export function caretAt(root: Element, score: Score, { voice, at }: Place): Caret | null {
  const note = score.voices[voice]?.notes.findLast((each) => each.at <= at);
  const index = score.bars.findIndex((each) => at < each.at + each.length);
  const [bar, measure] = [score.bars[index], measureAt(root, index)];
  const places = placesOf(measure ?? root, voice);
  const place = places.findLast((each) => atOf(each) <= at) ?? places.at(-1);
  if (!note || !place) return null;
  const origin = rectOf(root);
  const staff = staffLines(place);
  const own = headsOf(place);
  let [left, width] = [own.left - SIDE, own.right - own.left + 2 * SIDE];
  if (!bar || !measure) [left, width] = [staff.right + 2, 10];
  else if (at > atOf(place) || fills(bar, place, measure))
    [left, width] = [across(anchorsOf(measure, score), at) - SIDE, THIN];
  return {
    left: left - origin.left,
    width,
    top: staff.top - origin.top - BEYOND.above,
    bottom: staff.bottom - origin.top + BEYOND.below,
  };
}

/** A point on the screen, CSS px. */
interface Point {
  readonly x: number;
  readonly y: number;
}

/**
 * The moment that is nearest to a finger, of those that are asked for in the bar there; a note that the finger is right
 * on is meant itself. Null outside the lines.
 */
export function momentNear(
  target: Element,
  point: Point,
  score: Score,
  asked: (bar: number) => readonly Ticks[],
): Ticks | null {
  const touched = target.closest<SVGGElement>('.place');
  if (touched) return atOf(touched);
  const bars = [
    ...(target.closest('.system')?.querySelectorAll<SVGGElement>('.measure[data-bar]') ?? []),
  ];
  const away = (bar: SVGGElement): number => {
    const lines = staffLines(bar.querySelector('.place') ?? bar);
    return Math.max(lines.left - point.x, point.x - lines.right, 0);
  };
  const bar = bars.reduce<SVGGElement | null>(
    (best, each) => (best && away(best) <= away(each) ? best : each),
    null,
  );
  if (!bar) return null;
  const anchors = anchorsOf(bar, score);
  const off = (at: Ticks): number => Math.abs(across(anchors, at) - SIDE + THIN / 2 - point.x);
  return [...asked(Number(bar.dataset['bar']))].sort((a, b) => off(a) - off(b))[0] ?? null;
}

/** The note or rest of a voice that is nearest to a finger; another voice's where the finger is right on it. */
export function placeNear(target: Element, point: Point, voice: number): Place | null {
  const touched = target.closest<SVGGElement>('.place');
  if (touched) return { voice: voiceIn(touched), at: atOf(touched) };
  const line = target.closest('.system');
  if (!line) return null;
  let best: SVGGElement | null = null;
  let least = Infinity;
  for (const place of placesOf(line, voice)) {
    const { left, right } = headsOf(place);
    const away = Math.abs((left + right) / 2 - point.x);
    if (away < least) [best, least] = [place, away];
  }
  return best && { voice, at: atOf(best) };
}

/** The chord symbol that was pointed at: its bar in the score, and which of the bar's it is. */
export function chordAt(target: Element): { bar: number; index: number } | null {
  const chord = target.closest('.harm');
  const measure = chord?.closest<SVGGElement>('.measure[data-bar]');
  if (!chord || !measure) return null;
  const index = [...measure.querySelectorAll('.harm')].indexOf(chord);
  return { bar: Number(measure.dataset['bar']), index };
}

/** Whether a syllable was pointed at. */
export function isSyllable(target: Element): boolean {
  return target.closest('.syl') !== null;
}

/** Chords that begin in a bar, in the order they are drawn. */
export function chordsOf(score: Score, bar: number): readonly ChordAt[] {
  const span = score.bars[bar];
  return score.chords.filter(({ at }) => span && at >= span.at && at < span.at + span.length);
}

/** What is told apart in a drawing. */
export interface Marks {
  /** Indexes of bars. */
  readonly bars: readonly number[];
  /** Places of chords that were found and not written. */
  readonly guesses: ReadonlySet<Ticks>;
  /** The voice and the places of notes that are only proposed. */
  readonly proposed: ReadonlySet<Ticks>;
  readonly voice: number | null;
}

/** Gives bars, chords and notes of a drawing the classes that tell them apart. */
export function markDrawing(root: Element, score: Score, marks: Marks): void {
  for (const bar of root.querySelectorAll<SVGGElement>('.measure[data-bar]')) {
    const index = Number(bar.dataset['bar']);
    const chords = chordsOf(score, index);
    bar.classList.toggle('differs', marks.bars.includes(index));
    bar.querySelectorAll('.harm').forEach((harm, at) => {
      harm.classList.toggle('guess', marks.guesses.has(chords[at]?.at ?? -1));
    });
  }
  for (const place of root.querySelectorAll<SVGGElement>('.place')) {
    const isHere = voiceIn(place) === marks.voice && marks.proposed.has(atOf(place));
    place.classList.toggle('proposed', isHere);
  }
}

/** One line of music with the sections that begin on it. */
export interface DrawnLine {
  readonly svg: string;
  readonly sections: readonly Section[];
}

export function linesOf(engraved: Engraved, score: Score): DrawnLine[] {
  return engraved.systems.map(({ svg, from, to }) => {
    const [first, last] = [score.bars[from], score.bars[to]];
    const end = last ? last.at + last.length : 0;
    const begins = ({ from: at }: Section): boolean => at >= (first?.at ?? 0) && at < end;
    return { svg, sections: score.sections.filter(begins) };
  });
}
