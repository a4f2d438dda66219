/** A note of the tune by its pitch (half steps, C4 = 60) and length (ticks). */
export interface Sung {
  readonly midi: number;
  readonly length: number;
}

/** In half steps, both counted in. */
export interface Reach {
  readonly low: number;
  readonly high: number;
}

/**
 * In which octave somebody sings the tune along: as written or one below, the same for all of it, so that no phrase breaks.
 * First the least time outside the range, then the mean nearer to its middle (as key fit chooses); of equals as written.
 * @returns half steps to add
 */
export function octaveAlong(sung: readonly Sung[], { low, high }: Reach): 0 | -12 {
  const figures = ([0, -12] as const).map((by) => {
    const outside = sung.reduce(
      (sum, { midi, length }) => sum + (midi + by < low || midi + by > high ? length : 0),
      0,
    );
    const off = sung.reduce(
      (sum, { midi, length }) => sum + (2 * (midi + by) - low - high) * length,
      0,
    );
    return { by, outside, off: Math.abs(off) };
  });
  const [written, below] = figures as [(typeof figures)[0], (typeof figures)[0]];
  const better = below.outside - written.outside || below.off - written.off;
  return better < 0 ? below.by : written.by;
}
