import { COLOURS, type Ink } from './ink.ts';

/** The note of a tempo as the heading of a sheet draws it: its box, and where its head stands on the line. */
const [WIDE, PER_DOT, HIGH, LINE] = [15, 5, 24, 22.5];

/**
 * A note before its figures, set from its left on the line of the text.
 * @param note `whole`, `half`, `quarter`, `eighth`, `16th`
 */
export function noteValue(ink: Ink, { note, dots }: { note: string; dots: number }, size: number) {
  const unit = (size * 1.1) / HIGH;
  const isOpen = note === 'whole' || note === 'half';
  const flags = note === 'eighth' ? 1 : note === '16th' ? 2 : 0;
  return {
    width: (WIDE + PER_DOT * dots) * unit,
    draw: (x: number, baseline: number): void => {
      const { doc } = ink;
      doc.save().transform(unit, 0, 0, unit, x, baseline - LINE * unit);
      doc.fillColor(COLOURS.ink).strokeColor(COLOURS.ink).lineWidth(1.5).lineCap('butt');
      doc
        .save()
        .rotate(-22, { origin: [5.4, 20] })
        .ellipse(5.4, 20, 4.4, 3.1);
      if (isOpen) doc.stroke();
      else doc.fill();
      doc.restore();
      if (note !== 'whole') doc.path('M9.4 19V2').stroke();
      if (flags > 0) doc.path('M9.4 2c.6 4 4.6 4.6 3.8 9').stroke();
      if (flags > 1) doc.path('M9.4 6.4c.6 4 4.6 4.6 3.8 9').stroke();
      for (let dot = 0; dot < dots; dot++) doc.circle(13.5 + PER_DOT * dot, 19, 1.4).fill();
      doc.restore();
    },
  };
}
