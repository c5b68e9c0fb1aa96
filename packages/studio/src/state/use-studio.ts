import { createContext } from 'preact';
import { useContext, useEffect, useReducer } from 'preact/hooks';
import type { Studio, StudioState } from './studio';

/** The one studio of the page. */
export const StudioContext = createContext<Studio | null>(null);

/** The studio and its present state; the part is drawn again with every change. */
export function useStudio(): { readonly studio: Studio; readonly state: StudioState } {
  const studio = useContext(StudioContext);
  if (studio === null) throw new Error('a part of the window stands outside the studio');
  const [, again] = useReducer((count: number, _: undefined) => count + 1, 0);
  useEffect(() => studio.subscribe(() => again(undefined)), [studio]);
  return { studio, state: studio.state };
}
