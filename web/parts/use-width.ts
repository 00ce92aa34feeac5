import { type RefObject, useLayoutEffect, useState } from 'react';

/** Width of an element in CSS pixels, followed as it changes; 0 until it is laid out. */
export function useWidth(element: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const observed = element.current;
    if (!observed) return;
    setWidth(observed.clientWidth);
    const observer = new ResizeObserver(() => setWidth(observed.clientWidth));
    observer.observe(observed);
    return () => observer.disconnect();
  }, [element]);
  return width;
}
