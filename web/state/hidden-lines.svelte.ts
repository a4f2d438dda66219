const STORED = 'partbook.hidden-lines';

function stored(): readonly string[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(STORED) ?? '[]');
    return Array.isArray(kept) ? kept.filter((each) => typeof each === 'string') : [];
  } catch {
    return [];
  }
}

/** Lines of sheets that are hidden on this device, by what they are called; remembered there. */
export class HiddenOnDevice {
  #ids = $state.raw<readonly string[]>(stored());

  has(id: string): boolean {
    return this.#ids.includes(id);
  }

  hide(id: string): void {
    if (!this.has(id)) this.#keep([...this.#ids, id]);
  }

  showAll(): void {
    this.#keep([]);
  }

  #keep(ids: readonly string[]): void {
    this.#ids = ids;
    try {
      localStorage.setItem(STORED, JSON.stringify(ids));
    } catch {
      // They are hidden as long as the page is open.
    }
  }
}

const SHAPES = 'partbook.shapes-shown';

function storedShapes(): boolean {
  try {
    return localStorage.getItem(SHAPES) === 'yes';
  } catch {
    return false;
  }
}

/** Whether hand pictures stand in sheets of those who know the shapes; remembered on this device. */
export class ShapesOnDevice {
  #shown = $state(storedShapes());

  get shown(): boolean {
    return this.#shown;
  }

  toggle(): void {
    this.#shown = !this.#shown;
    try {
      localStorage.setItem(SHAPES, this.#shown ? 'yes' : 'no');
    } catch {
      // They are shown as long as the page is open.
    }
  }
}
