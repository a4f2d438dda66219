/** Sizes of the words against the usual, smallest first. */
export const TEXT_SIZES = [0.75, 0.85, 1, 1.2, 1.4, 1.7] as const;
const STORED = 'partbook.text';
/** Widths are asked for in steps, so that turning a tablet or dragging a window does not engrave at every pixel. */
const STEP = 10;

/** As chosen on this device. */
export function storedSize(): number {
  try {
    const value = Number(localStorage.getItem(STORED));
    return TEXT_SIZES.find((size) => size === value) ?? 1;
  } catch {
    return 1;
  }
}

export function storeSize(size: number): void {
  try {
    localStorage.setItem(STORED, String(size));
  } catch {
    // The size lasts as long as the page.
  }
}

/** The next size up or down; null where there is none. */
export function sizeFrom(size: number, by: 1 | -1): number | null {
  return TEXT_SIZES[TEXT_SIZES.findIndex((each) => each === size) + by] ?? null;
}

/** The width that is asked for a view of so many CSS px. */
export function askedWidth(width: number): number {
  return Math.min(2560, Math.max(320, Math.floor(width / STEP) * STEP));
}
