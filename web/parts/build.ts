import { Endings, TEXTURES, type Ending, type Texture } from '#music';

/** A hairpin being drawn: from one pass as it is played to another. */
export interface Stroke {
  readonly from: number;
  readonly to: number;
  readonly texture: Texture;
}

/** How wide the hairpin is open at a texture, against its widest: a sixth where chords are held. */
export function openingOf(texture: Texture): number {
  return (TEXTURES.indexOf(texture) + 1) / TEXTURES.length;
}

/** The texture whose opening is the nearest; of two as near the fuller one. */
export function textureOfOpening(opening: number): Texture {
  const step = Math.round(opening * TEXTURES.length);
  return TEXTURES[Math.min(TEXTURES.length, Math.max(1, step)) - 1] ?? 'held';
}

/**
 * A pointer over the drawing.
 * @param x of the pointer and `y` of the point that it holds, from the left upper corner of the drawing, in its units
 */
export function strokeTo(
  from: number,
  { x, y }: { readonly x: number; readonly y: number },
  { width, height, passes }: { readonly width: number; readonly height: number; passes: number },
): Stroke {
  const to = Math.min(passes - 1, Math.max(0, Math.floor((x / width) * passes)));
  return { from, to, texture: textureOfOpening(1 - y / (height / 2)) };
}

/**
 * A pointer on the screen over the drawing.
 * @param held how far below its middle a point is held, in CSS px
 */
export function strokeUnder(
  { clientX, clientY }: Pick<PointerEvent, 'clientX' | 'clientY'>,
  held: number,
  field: Pick<Element, 'getBoundingClientRect'>,
  { from, passes }: { readonly from: number; readonly passes: number },
): Stroke {
  const { left, top, width, height } = field.getBoundingClientRect();
  return strokeTo(from, { x: clientX - left, y: clientY - held - top }, { width, height, passes });
}

/** What a key does to a texture, as on any slider; null: it is none of its keys. */
export function textureByKey(texture: Texture, key: string): Texture | null {
  const at = TEXTURES.indexOf(texture);
  const to: Readonly<Record<string, number>> = {
    ArrowUp: at + 1,
    ArrowDown: at - 1,
    Home: 0,
    End: TEXTURES.length - 1,
  };
  const step = to[key];
  return step === undefined
    ? null
    : (TEXTURES[Math.min(TEXTURES.length - 1, Math.max(0, step))] ?? null);
}

/** Units of the drawing: so wide is a pass, so high the whole hairpin. */
export const [PASS, HEIGHT] = [100, 200] as const;

/**
 * The two lines of a hairpin, upper and lower: straight from pass to pass, level at its start, and at its end as the last
 * pass ends.
 * @param ending null: as that is played
 */
export function hairpinLines(
  textures: readonly Texture[],
  ending: Ending | null = null,
): readonly [string, string] {
  const last = textures.at(-1) ?? 'held';
  const end = openingOf(ending ? Endings.textureOfEnding(ending, last) : last);
  const line = (side: -1 | 1): string => {
    const points = textures.map((texture, i) => ({
      x: (i + 0.5) * PASS,
      y: HEIGHT / 2 + (side * openingOf(texture) * HEIGHT) / 2,
    }));
    const ends = [
      { x: 0, y: points[0]?.y ?? HEIGHT / 2 },
      ...points,
      { x: textures.length * PASS, y: HEIGHT / 2 + (side * end * HEIGHT) / 2 },
    ];
    return `M${ends.map(({ x, y }) => `${x} ${Math.round(y * 10) / 10}`).join('L')}`;
  };
  return [line(-1), line(1)];
}

/** The textures in use, in the order they first come, each with what is played where it first does. */
export function inUse(
  textures: readonly Texture[],
  say: (at: number, texture: Texture) => string,
): { readonly texture: Texture; readonly words: string }[] {
  return [...new Set(textures)].map((texture) => ({
    texture,
    words: say(textures.indexOf(texture), texture),
  }));
}

/** `, and it ends quietly`; empty where it ends as it is played. */
export function sayEnd(ending: Ending | null): string {
  return ending === null ? '' : `, and it ends ${Endings.HOW[ending]}`;
}
