/** The engraver ships without types; these are the parts that are used here (verovio 6.3.0). */
declare module 'verovio/wasm' {
  export default function createVerovioModule(): Promise<object>;
}

declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: object);
    setOptions(options: Readonly<Record<string, string | number | boolean>>): void;
    loadData(data: string): boolean;
    getPageCount(): number;
    renderToSVG(page?: number): string;
  }
}
