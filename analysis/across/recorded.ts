import type { BootstrapSet } from '../curve/bootstrap.ts';
import type { Curve } from '../curve/curve.ts';

/** A curve read earlier, with the other curves that its strip could as well have shown. */
export interface RecordedCurve {
  readonly curve: Curve;
  readonly set: BootstrapSet;
}
