import { boldScreen, regularScreen } from 'virtual:okuri-screen-font';

/** CSS family under which the bundled font is loaded, in the page and in workers alike. */
export const FONT_FAMILY = '"Okuri Sheet"';

let loaded: Promise<void> | null = null;

/** Loads the small files of the bundled font where this runs; without them words on drawings come in a font of the machine. */
export function loadScreenFont(): Promise<void> {
  loaded ??= (async () => {
    const faces = [
      new FontFace('Okuri Sheet', `url("${regularScreen}")`, { weight: '400' }),
      new FontFace('Okuri Sheet', `url("${boldScreen}")`, { weight: '700' }),
    ];
    await Promise.all(faces.map((face) => face.load()));
    for (const face of faces) fontSet().add(face);
  })().catch(() => undefined);
  return loaded;
}

function fontSet(): FontFaceSet {
  return typeof document === 'undefined' ? (self as unknown as { fonts: FontFaceSet }).fonts : document.fonts;
}
