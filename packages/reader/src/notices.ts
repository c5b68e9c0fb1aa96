import type { Box, Notice } from '@okuri/core';
import { MAX_NOTICES } from './caps.js';

/** A notice while the scale is not known: its box is in pixels of the page. */
export interface RawNotice extends Omit<Notice, 'boxMm'> {
  readonly boxPx?: Box;
}

/** Collects notices. A repeated one (same code, element and message, as copies make) is kept once. */
export class NoticeList {
  private readonly kept: RawNotice[] = [];
  private readonly seen = new Set<string>();
  private beyond = 0;

  add(notice: RawNotice): void {
    const key = `${notice.code}\n${notice.element}\n${notice.message}`;
    if (this.seen.has(key)) return;
    this.seen.add(key);
    if (this.kept.length >= MAX_NOTICES) {
      this.beyond++;
      return;
    }
    this.kept.push(notice);
  }

  /** All notices, with a closing one that counts those beyond the cap. */
  list(): readonly RawNotice[] {
    if (this.beyond === 0) return this.kept;
    const message = `${this.beyond} more notices are not listed.`;
    return [...this.kept, { code: 'more-notices', severity: 'look', message, element: '<svg>' }];
  }
}

/** A list that keeps nothing: for outlines that are only measured. */
export class MutedNotices extends NoticeList {
  override add(): void {}
}
