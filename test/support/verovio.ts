/** The engraver as a bare tool for tests that ask it questions of music, not of looks. */
export interface Engraver {
  setOptions(options: Readonly<Record<string, unknown>>): void;
  loadData(text: string): boolean | number;
  getMEI(options: Readonly<Record<string, unknown>>): string;
  renderToSVG(page: number): string;
  /** A Standard MIDI File in base64. */
  renderToMIDI(): string;
  getPageCount(): number;
}

type MakeModule = () => Promise<object>;
type Toolkit = new (module: object) => Engraver;

/** The package has no types of its own, so that it is taken in by names that the compiler does not follow. */
export async function makeEngraver(): Promise<Engraver> {
  const [wasm, esm] = ['verovio/wasm', 'verovio/esm'];
  const { default: makeModule } = (await import(/* @vite-ignore */ wasm)) as {
    default: MakeModule;
  };
  const { VerovioToolkit } = (await import(/* @vite-ignore */ esm)) as { VerovioToolkit: Toolkit };
  return new VerovioToolkit(await makeModule());
}
