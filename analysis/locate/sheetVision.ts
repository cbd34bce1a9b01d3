import { createRequire } from 'node:module';

/** What is taken from OpenCV. Everything made by `new` lies outside the collector's reach: delete it. */
export interface Vision {
  readonly DICT_ARUCO_MIP_36h12: number;
  readonly Mat: new (rows?: number, columns?: number, type?: number) => VisionMat;
  readonly MatVector: new () => VisionMats;
  readonly CV_8UC1: number;
  readonly CV_32FC2: number;
  getPredefinedDictionary(name: number): VisionThing;
  readonly aruco_DetectorParameters: new () => VisionThing & {
    adaptiveThreshWinSizeMin: number;
    adaptiveThreshWinSizeMax: number;
    adaptiveThreshWinSizeStep: number;
  };
  readonly aruco_RefineParameters: new (reach: number, rate: number, anyOrder: boolean) => VisionThing;
  readonly aruco_ArucoDetector: new (
    dictionary: VisionThing,
    parameters: VisionThing,
    refine: VisionThing,
  ) => VisionThing & { detectMarkers(image: VisionMat, corners: VisionMats, ids: VisionMat): void };
  readonly QRCodeDetector: new () => VisionThing & {
    detectAndDecode(image: VisionMat): string;
    decode(image: VisionMat, corners: VisionMat): string;
  };
}

export interface VisionThing {
  delete(): void;
}

export interface VisionMat extends VisionThing {
  readonly rows: number;
  readonly data: Uint8Array;
  readonly data32F: Float32Array;
  readonly data32S: Int32Array;
}

export interface VisionMats extends VisionThing {
  size(): number;
  get(at: number): VisionMat;
}

type Module = Vision & { onRuntimeInitialized?: () => void; then?: unknown };

const HOOKED = ['uncaughtException', 'unhandledRejection'] as const;

/** In a box: the module has a `then` of its own, and awaiting it would never end. */
let loading: Promise<{ readonly vision: Vision }> | undefined;

/**
 * OpenCV compiled to WebAssembly (10 MB), loaded when first asked for. It hooks itself into the process's last error
 * handlers as it starts; what it has added there is taken away again, so that our own errors end as they should.
 */
export const loadVision = (): Promise<{ readonly vision: Vision }> => {
  loading ??= start();
  return loading;
};

const start = async (): Promise<{ readonly vision: Vision }> => {
  const before = HOOKED.map((event) => new Set(process.listeners(event as 'uncaughtException')));
  // Not import(): a loader that lifts the module's own names, its `then` among them, would wait for ever.
  const module = createRequire(import.meta.url)('@techstark/opencv-js') as Module;
  await new Promise<void>((ready) => {
    if (module.Mat) ready();
    else module.onRuntimeInitialized = ready;
  });
  HOOKED.forEach((event, i) => {
    for (const listener of process.listeners(event as 'uncaughtException'))
      if (!before[i].has(listener)) process.removeListener(event, listener);
  });
  return { vision: module };
};

/** Runs a piece of work and deletes, in the end, everything that it was given to keep. */
export const tidy = <T>(work: (keep: <M extends VisionThing>(thing: M) => M) => T): T => {
  const kept: VisionThing[] = [];
  try {
    return work((thing) => {
      kept.push(thing);
      return thing;
    });
  } finally {
    for (const thing of kept.reverse()) thing.delete();
  }
};
