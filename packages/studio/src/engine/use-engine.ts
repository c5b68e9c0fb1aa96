import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Painter } from '../canvas/painter';
import type { EngineClient } from './client';

/** The threads behind the window. */
export interface Threads {
  readonly client: EngineClient;
  readonly painter: Painter;
}

export const ThreadsContext = createContext<Threads | null>(null);

/** The engine and the painter of the page. */
export function useThreads(): Threads {
  const threads = useContext(ThreadsContext);
  if (threads === null) throw new Error('a part of the window stands outside the studio');
  return threads;
}
