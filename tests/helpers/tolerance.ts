/** How far a measured or computed number may lie from its reference, by what it is and in which unit. */
export const tolerance = {
  /** ΔE00 printed with four decimals: half of the last. */
  deltaE00Printed: 5e-5,
  /** L*, a*, b* from two libraries that compute in doubles. */
  labDoubles: 1e-6,
  /** L*, a*, b* from references with 16-bit fixed point. */
  labFixedPoint: 0.01,
  /** Numbers printed with ten decimals. */
  tenDecimals: 1e-10,
  /** Numbers printed with four decimals. */
  fourDecimals: 5.1e-5,
  /** Adaptation matrices printed with seven decimals. */
  sevenDecimals: 5.1e-8,
  /** Colour matrices out of an ICC file, whose numbers are stored in steps of 1/65536. */
  iccFixedPoint: 2e-4,
  /** One scene in two colour spaces, inside sRGB, ΔE00. */
  sameSceneDeltaE00: 0.3,
  /** Linear light out of a profile's curve, share of full light. */
  linearLight: 2e-5,
  /** Code values of flat areas after good lossy compression, 0..255. */
  flatAfterCompressionCodes: 2,
} as const;
