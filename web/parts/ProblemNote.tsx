import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Failure } from '../api.ts';
import { words } from '../words.ts';
import { Said } from './Remarks.tsx';

/** What went wrong and what to do next, with a way on where there is one. */
export const ProblemNote = ({
  failure,
  entered = false,
  children,
}: {
  failure: Failure;
  /** Stands it beneath something that was entered, which is still there? */
  entered?: boolean;
  children?: ComponentChildren;
}) => {
  const { what, next } = words.errors[failure.code];
  const ref = useRef<HTMLDivElement>(null);
  useEffect(() => ref.current?.scrollIntoView({ block: 'center' }), [failure]);
  return (
    <div class="problem" role="alert" ref={ref}>
      <svg class="problem-sign" width="28" height="28" viewBox="0 0 28 28" aria-hidden="true">
        <path d="M14 2 27 26H1z" fill="currentColor" />
        <path d="M14 10v8M14 20.5v3" class="problem-mark" />
      </svg>
      <div>
        <p class="problem-what">{what}</p>
        <p>{next}</p>
        {failure.detail && failure.detail !== what && (
          <p class="fine">
            {words.problem.details}: <Said text={failure.detail} phrase={failure.phrase} />
          </p>
        )}
        {entered && <p class="fine">{words.problem.kept}</p>}
        {children}
      </div>
    </div>
  );
};
