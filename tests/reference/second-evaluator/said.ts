/* What `evaluate --json` says, as far as the second evaluator looks at it. */
export type Uncertainty = { [key: string]: number | null } | null
export type Figures = { meanVelocityMps: number | null; flowM3ps: number | null } | null
export type Judged = {
  key: string
  scope: string
  subjectId: string
  verdict: string
  guardBandM3ps?: number | null
  guardBandPerHour?: number | null
}
export type FilterSaid = {
  terminalId: string
  tag: string
  meanVelocityMps: number | null
  flowM3ps: number | null
  standardDeviationMps: number | null
  relativeStandardDeviationPercent: number | null
  largestDeviationPercent: number | null
  percentOfDesign: number | null
  hoodFactor: number | null
  byBasis: { as_indicated: Figures; standard: Figures; actual: Figures }
  uncertainty: { meanVelocity: Uncertainty; flow: Uncertainty } | null
  criteria: Judged[]
}
export type ZoneSaid = {
  zoneId: string
  meanVelocityMps: number | null
  relativeStandardDeviationPercent: number | null
  percentOfDesign: number | null
  criteria: Judged[]
}
export type RunSaid = {
  runId: string
  zoneId: string | null
  verdict: string
  filters: FilterSaid[]
  zones: ZoneSaid[]
  roomCriteria: Judged[]
  air: { actualKgpm3: number }
  room: {
    supplyFlowM3ps: number | null
    airChangesPerHour: number | null
    outsideAirChangesPerHour: number | null
    percentOfDesign: number | null
    volumeM3: number
    uncertainty: { supplyFlow: Uncertainty; airChanges: Uncertainty } | null
    balance: {
      supplyM3ps: number
      returnM3ps: number
      exhaustM3ps: number
      recirculatedM3ps: number
      offsetM3ps: number | null
      offsetAtRoomM3ps: number | null
    } | null
  }
}
export type Said = {
  certifications: { rooms: { number: string; verdict: string; runs: { current: boolean; verdict: string; result: RunSaid }[] }[] }[]
}
