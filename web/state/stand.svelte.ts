import { HiddenOnDevice, ShapesOnDevice } from './hidden-lines.svelte.ts';
import { leafOf, leastGap, leavesOf, type Begins } from './leaves.ts';

/** Keys of a keyboard, a page turner or a clicker. */
const FORWARD = new Set(['ArrowRight', 'ArrowDown', 'PageDown', ' ', 'Enter']);
const BACK = new Set(['ArrowLeft', 'ArrowUp', 'PageUp', 'Backspace']);
/** CSS px: a shorter way is a tap. */
const SWIPE = 48;

/** What is laid on pages: a line of music, a line of words, a heading. */
export interface StandBlock {
  readonly begins: Begins;
  /** Which sheet it belongs to, and where it stands in it: by these it is found again when all is laid anew. */
  readonly sheet: string;
  readonly at: number;
}

/** The block at the same place as an earlier one, or the last before it; else the first of all. */
function placeAgain(blocks: readonly StandBlock[], { sheet, at }: StandBlock): number {
  const same = blocks.findIndex((block) => block.sheet === sheet);
  const last = blocks.findLastIndex((block) => block.sheet === sheet && block.at <= at);
  return Math.max(0, same, last);
}

/** The pages on the stand: which blocks stand on which page, and turning them. */
export class Stand {
  readonly hidden = new HiddenOnDevice();
  readonly shapes = new ShapesOnDevice();
  /** Index of the first block of the page that is open: it stays in sight when pages are laid anew. */
  block = $state(0);
  /** Which way the last turn went: 1, −1, or 0. */
  direction = $state(0);
  /** Heights of the blocks in CSS px, top to bottom. */
  heights = $state<number[]>([]);
  room = $state(0);
  /** Least room between two blocks. */
  gap = $state(12);
  blocks = $state.raw<readonly StandBlock[]>([]);
  #from: { x: number; y: number; id: number } | null = null;
  /**
   * Where one turned to, while all is laid anew, perhaps several times: another size may have no line that begins there,
   * and the size after it has it again.
   */
  #place: StandBlock | null = null;

  readonly #begins = $derived(this.blocks.map(({ begins }) => begins));
  readonly #heights = $derived(
    this.blocks.length > 0 ? this.blocks.map((_, i) => this.heights[i] ?? 0) : this.heights,
  );
  readonly starts = $derived(leavesOf(this.#heights, this.room, this.gap, this.#begins));
  readonly count = $derived(Math.max(1, this.starts.length));
  readonly page = $derived(leafOf(this.starts, this.block));
  readonly first = $derived(this.starts[this.page] ?? 0);
  readonly end = $derived(this.starts[this.page + 1] ?? this.#heights.length);
  /** Indexes of the blocks that sheets begin with. */
  readonly #sheets = $derived(
    this.#begins.flatMap((begins, index) => (index === 0 || begins === 'sheet' ? [index] : [])),
  );
  /** Index of the sheet that is open. */
  readonly sheet = $derived(leafOf(this.#sheets, this.first));
  /** Which page of that sheet is open, from 1, and how many it has. */
  readonly ofSheet = $derived.by(() => {
    const from = this.#sheets[this.sheet] ?? 0;
    const to = this.#sheets[this.sheet + 1] ?? Infinity;
    const own = this.starts.filter((start) => start >= from && start < to);
    return { page: own.indexOf(this.first) + 1, count: Math.max(1, own.length) };
  });
  /** Room between two blocks of the page that is open: what is left over is shared out, up to a limit; less for an end. */
  readonly spacing = $derived.by(() => {
    const shown = this.#heights.slice(this.first, this.end);
    const apart = this.#begins.slice(this.first + 1, this.end).filter((each) => each === 'line');
    const left = this.room - shown.reduce((sum, height) => sum + height, 0);
    const gaps = Math.max(1, shown.length - 1 - apart.length);
    return Math.max(leastGap(this.gap), Math.min(3 * this.gap + 24, left / gaps));
  });

  /** Takes what is to be laid, and keeps the place where one is. */
  lay(blocks: readonly StandBlock[]): void {
    const here = this.#place ?? this.blocks[this.block];
    this.blocks = blocks;
    if (!here) return;
    this.#place = here;
    this.direction = 0;
    this.block = placeAgain(blocks, here);
  }

  measured(block: number, height: number): void {
    this.heights[block] = height;
  }

  turn(by: number): void {
    const page = Math.min(this.count - 1, Math.max(0, this.page + by));
    if (page === this.page) return;
    this.direction = by;
    this.#goTo(this.starts[page] ?? 0);
  }

  /** Opens a sheet at its beginning. */
  open(sheet: number): void {
    const block = this.#sheets[sheet];
    if (block === undefined || block === this.first) return;
    this.direction = block > this.first ? 1 : -1;
    this.#goTo(block);
  }

  #goTo(block: number): void {
    this.block = block;
    this.#place = null;
  }

  shows(block: number): boolean {
    return block >= this.first && block < this.end;
  }

  key = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const onControl = (event.target as Element | null)?.closest('button, a, input, select');
    if (onControl && [' ', 'Enter'].includes(event.key)) return;
    const by = FORWARD.has(event.key) ? 1 : BACK.has(event.key) ? -1 : 0;
    if (event.key === 'Home') this.turn(-this.count);
    else if (event.key === 'End') this.turn(this.count);
    else if (by !== 0) this.turn(event.shiftKey && event.key === ' ' ? -1 : by);
    else return;
    event.preventDefault();
  };

  press = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    this.#from = { x: event.clientX, y: event.clientY, id: event.pointerId };
  };

  /** A swipe turns the way the hand goes; a tap turns on, in the left third back. */
  release = (event: PointerEvent): void => {
    const from = this.#from;
    this.#from = null;
    if (!from || from.id !== event.pointerId) return;
    const [dx, dy] = [event.clientX - from.x, event.clientY - from.y];
    if (Math.abs(dx) > SWIPE && Math.abs(dx) > Math.abs(dy)) this.turn(dx < 0 ? 1 : -1);
    else if (Math.hypot(dx, dy) < 12) {
      const width = (event.currentTarget as Element).clientWidth;
      this.turn(event.clientX < width / 3 ? -1 : 1);
    }
  };

  cancel = (): void => {
    this.#from = null;
  };
}
