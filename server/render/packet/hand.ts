import { drawHand, type HandPicture } from '#music';
import { COLOURS, type Ink } from './ink.ts';

/** Unpressed black keys: between ink and paper, so that the pressed ones stand out (`web/parts/HandPicture.svelte`). */
const RAISED = '#9e9e9e';
/** A little round everything, in the picture's units. */
const ROUND = 1;
/** Size of the fingers below the keys in the picture's units, and in points in a small picture. */
const [FIGURES, LEAST] = [13, 7];
/** From the keys to the line that figures stand on, and below it, against their size. */
const [TO_LINE, BELOW] = [1.04, 0.19];

function measured({ notes, fingers }: HandPicture, width: number) {
  const hand = drawHand(notes, fingers);
  const unit = width / (hand.width + 2 * ROUND);
  return { hand, unit, size: Math.max(FIGURES, LEAST / unit) };
}

/** Height of a picture of so much width. */
export function handHeight(shape: HandPicture, width: number): number {
  const { hand, unit, size } = measured(shape, width);
  return unit * (hand.height + size * (TO_LINE + BELOW) + 2 * ROUND);
}

/** Two octaves of keys with a shape on them, from the top left. */
export function drawKeys(
  ink: Ink,
  shape: HandPicture,
  { x, y, width }: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const { hand, unit, size } = measured(shape, width);
  const { doc } = ink;
  doc.save().transform(unit, 0, 0, unit, x + ROUND * unit, y + ROUND * unit);
  doc.lineWidth(0.8).lineJoin('miter');
  for (const key of hand.white) {
    doc.rect(key.x, 0, key.width, key.height);
    doc.fillAndStroke(key.pressed ? COLOURS.ink : COLOURS.paper, COLOURS.ink);
  }
  for (const key of hand.black) {
    doc.lineWidth(key.pressed ? 1.6 : 0.8).rect(key.x, 0, key.width, key.height);
    doc.fillAndStroke(key.pressed ? COLOURS.ink : RAISED, COLOURS.paper);
  }
  const { middleC } = hand;
  if (middleC !== null) {
    const top = hand.height - 8;
    doc
      .moveTo(middleC - 2.2, top + 4)
      .lineTo(middleC + 2.2, top + 4)
      .lineTo(middleC, top);
    doc.closePath().fill(COLOURS.faint);
  }
  const style = { face: 'italic', size, colour: 'rubric' } as const;
  for (const { x: middle, finger } of hand.fingers) {
    const said = String(finger);
    ink.write(said, middle - ink.width(said, style) / 2, hand.height + size * TO_LINE, style);
  }
  doc.restore();
}
