import type { RefObject } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';

/** The width in pixels of the element that the ref is put on, followed as it changes; 0 until it is laid out. */
export const useWidth = <Element extends HTMLElement>(): readonly [RefObject<Element | null>, number] => {
  const ref = useRef<Element>(null);
  const [widthPx, setWidthPx] = useState(0);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    setWidthPx(element.clientWidth);
    const watch = new ResizeObserver(() => setWidthPx(element.clientWidth));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return [ref, widthPx];
};
