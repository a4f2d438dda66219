import QRCode from 'qrcode';

/** Light modules round the symbol, without which a camera does not find it (ISO/IEC 18004: four). */
export const QUIET = 4;

export interface DrawnCode {
  /** Modules along a side, the quiet zone included. */
  readonly size: number;
  /** One path of all dark modules, a module being one unit. */
  readonly path: string;
}

/** An address as a QR code. A quarter of it may be hidden or smudged (level Q), as paper is. */
export function drawCode(text: string): DrawnCode {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'Q' });
  const runs: string[] = [];
  for (let y = 0; y < modules.size; y += 1) {
    for (let x = 0; x < modules.size; x += 1) {
      if (!modules.get(y, x)) continue;
      let end = x;
      while (end < modules.size && modules.get(y, end)) end += 1;
      runs.push(`M${x + QUIET} ${y + QUIET}h${end - x}v1h${x - end}z`);
      x = end;
    }
  }
  return { size: modules.size + 2 * QUIET, path: runs.join('') };
}
