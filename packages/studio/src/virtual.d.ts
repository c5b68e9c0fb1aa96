declare module 'virtual:okuri-font-metrics' {
  interface WrittenFace {
    readonly unitsPerEm: number;
    readonly ascent: number;
    readonly descent: number;
    readonly capHeight: number;
    readonly flat: readonly number[];
  }
  export const regular: WrittenFace;
  export const bold: WrittenFace;
}

declare module 'virtual:okuri-screen-font' {
  /** Addresses of small files for the screen, and of the whole fonts. */
  export const regularScreen: string;
  export const boldScreen: string;
  export const regularWhole: string;
  export const boldWhole: string;
}

interface ImportMeta {
  readonly env: {
    /** Whether this was built, and is not served from the sources. */
    readonly PROD: boolean;
  };
}

declare module '*.css';

declare module '*?raw' {
  const text: string;
  export default text;
}
