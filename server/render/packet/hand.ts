import { drawHand, type HandPicture } from '#music';
import { COLOURS, type Ink } from './ink.ts';

/** Unpressed black keys: between ink and paper, so that the pressed ones stand out (`web/parts/HandPicture.svelte`). */
const RAISED = '#9e9e9e';
/** Below the keys, for the fingers, in the picture's units; and a little round everything. */
const [BELOW, ROUND] = [16, 1];

/** Height of a picture of so much width. */
export function handHeight({ notes, fingers }: HandPicture, width: number): number {
  const hand = drawHand(notes, fingers);
  return (width / (hand.width + 2 * ROUND)) * (hand.height + BELOW + 2 * ROUND);
}

/** Two octaves of keys with a shape on them, from the top left. */
export function drawKeys(
  ink: Ink,
  { notes, fingers }: HandPicture,
  { x, y, width }: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const hand = drawHand(notes, fingers);
  const unit = width / (hand.width + 2 * ROUND);
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
  const style = { face: 'italic', size: 13, colour: 'rubric' } as const;
  for (const { x: middle, finger } of hand.fingers) {
    const said = String(finger);
    ink.write(said, middle - ink.width(said, style) / 2, hand.height + 13.5, style);
  }
  doc.restore();
}
