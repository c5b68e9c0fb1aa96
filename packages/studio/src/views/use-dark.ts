import { useEffect, useState } from 'preact/hooks';

const DARK = '(prefers-color-scheme: dark)';

/** Whether the window is dark just now: what is painted by hand has to be painted again when that changes. */
export function useDark(): boolean {
  const [dark, setDark] = useState(() => matchMedia(DARK).matches);
  useEffect(() => {
    const asked = matchMedia(DARK);
    const look = () => setDark(asked.matches);
    asked.addEventListener('change', look);
    return () => asked.removeEventListener('change', look);
  }, []);
  return dark;
}
