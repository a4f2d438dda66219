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
