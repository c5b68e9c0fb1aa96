import { type Drawing, InputError } from '@okuri/core';
import PDFDocument from 'pdfkit';
import { boundsOf } from '../shared/bounds.js';
import { groupItems, groupOrder } from '../shared/groups.js';
import { POINTS_PER_MM, pageOf } from '../shared/lengths.js';
import { type Content, type ContentSource, contentOf } from './content.js';
import { pdfFaces } from './fonts.js';

export interface PdfOptions {
  /** Streams are deflated. Default true; false leaves the operators readable. */
  readonly compress?: boolean;
}

const DEFAULTS = { compress: true } as const;

/** The longest side of a page that readers take, points (PDF Reference 1.7, appendix C: 200 inches). */
const LONGEST_SIDE_POINTS = 14_400;

/**
 * A drawing as a PDF file at true size, a page for each of its pages. Media, crop and trim boxes are the page's size (mm × 72 / 25.4,
 * six decimals); the viewer is asked not to scale when printing; dates are the drawing's own, so that the same drawing gives the
 * same bytes. Each group is stored once, as a form, however many pages and places it is on. Texts are real text in the embedded
 * font. Throws an `InputError` for a drawing without pages, a page longer than 5080 mm, a group that does not exist or
 * holds itself, an impossible date, and numbers that are not finite.
 */
export async function toPdf(drawing: Drawing, options: PdfOptions = {}): Promise<Uint8Array> {
  const { compress } = { ...DEFAULTS, ...options };
  if (drawing.pages.length === 0) throw new InputError(`The drawing "${drawing.title}" has no pages to write.`);
  const date = dateOf(drawing);
  const document = new PDFDocument({
    autoFirstPage: false,
    compress,
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    font: null as unknown as string,
    info: { Title: drawing.title, Creator: 'Okuri', Producer: 'Okuri', CreationDate: date, ModDate: date },
  });
  const bytes = collect(document);
  catalogue(document).ViewerPreferences.data.PrintScaling = 'None';
  writeAll(document, drawing);
  document.end();
  return bytes;
}

function writeAll(document: PDFKit.PDFDocument, drawing: Drawing): void {
  const all = drawing.pages.flatMap((page) => page.items);
  const forms = new Map<string, Reference>();
  const numbers = new Map<string, string>();
  const source: ContentSource = {
    face: pdfFaces(document),
    groupName: (group) => {
      const known = numbers.get(group);
      if (known !== undefined) return known;
      const name = `G${numbers.size}`;
      numbers.set(group, name);
      return name;
    },
  };
  const resources = (content: Content): Record<string, unknown> => ({
    ...(content.fonts.length > 0 && { Font: Object.fromEntries(content.fonts.map((f) => [f.name, f.reference])) }),
    ...(content.groups.length > 0 && {
      XObject: Object.fromEntries(content.groups.map((g) => [source.groupName(g), forms.get(g)])),
    }),
  });

  const bounds = boundsOf(drawing);
  for (const group of groupOrder(drawing, all)) {
    const content = contentOf(drawing, groupItems(drawing, group), source);
    const box = bounds.ofGroup(group) ?? { x0: 0, y0: 0, x1: 0, y1: 0 };
    const form = reference(document, {
      Type: 'XObject',
      Subtype: 'Form',
      // Outwards to the next whole point: the box clips.
      BBox: [
        Math.floor(box.x0 * POINTS_PER_MM) - 1,
        Math.floor(box.y0 * POINTS_PER_MM) - 1,
        Math.ceil(box.x1 * POINTS_PER_MM) + 1,
        Math.ceil(box.y1 * POINTS_PER_MM) + 1,
      ],
      Resources: resources(content),
    });
    form.end(content.operators);
    forms.set(group, form);
  }

  drawing.pages.forEach((_, index) => {
    const { name, widthMm, heightMm, items } = pageOf(drawing, index);
    const size: [number, number] = [widthMm * POINTS_PER_MM, heightMm * POINTS_PER_MM];
    // One part in 1e9: 5080 mm is 14400 points but for rounding.
    if (Math.max(...size) > LONGEST_SIDE_POINTS * (1 + 1e-9)) {
      throw new InputError(
        `The page "${name}" measures ${widthMm} × ${heightMm} mm, and no side of a PDF page may be longer than 5080 mm; choose smaller sheets or write SVG.`,
      );
    }
    const content = contentOf(drawing, items, source);
    document.addPage({ size, margin: 0 });
    const page = document.page as unknown as PdfPage;
    const box = [0, 0, ...size];
    Object.assign(page.dictionary.data, { MediaBox: box, CropBox: box, TrimBox: box });
    Object.assign(page.resources.data, resources(content));
    document.addContent(content.operators);
  });
}

/** The parts of pdfkit's objects in use here, beyond its published types. */
interface Reference {
  readonly data: Record<string, unknown>;
  end(chunk?: string): void;
}

interface PdfPage {
  readonly dictionary: Reference;
  readonly resources: Reference;
}

function reference(document: PDFKit.PDFDocument, data: Record<string, unknown>): Reference {
  return document.ref(data) as unknown as Reference;
}

function catalogue(document: PDFKit.PDFDocument): { readonly ViewerPreferences: Reference } {
  const { _root } = document as unknown as { readonly _root: Reference };
  return _root.data as unknown as { readonly ViewerPreferences: Reference };
}

function collect(document: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    document.on('error', reject);
    document.on('end', () => resolve(joined(chunks)));
  });
}

function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}

function dateOf(drawing: Drawing): Date {
  const date = new Date(`${drawing.date}T00:00:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(drawing.date) || Number.isNaN(date.getTime())) {
    throw new InputError(
      `The drawing "${drawing.title}" is dated "${drawing.date}"; write the date as year-month-day, such as 2024-05-31.`,
    );
  }
  return date;
}
