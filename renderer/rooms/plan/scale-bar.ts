/** A bar whose length is a round figure in the unit that people read. */
export type ScaleBar = { readonly lengthM: number; readonly px: number; readonly value: number; readonly unit: 'm' | 'mm' | 'ft' | 'in' }

const FOOT_M = 0.3048

/** The longest round bar (1, 2 or 5 times a power of ten; feet down to a foot, then inches) that fits `mostPx`. */
export function scaleBar(pxPerM: number, length: 'm' | 'ft', mostPx: number): ScaleBar {
  const mostM = mostPx / pxPerM
  if (length === 'm') {
    if (mostM >= 1) return bar(roundDown(mostM), 1, 'm', pxPerM)
    return bar(roundDown(mostM * 1000), 0.001, 'mm', pxPerM)
  }
  if (mostM >= FOOT_M) return bar(roundDown(mostM / FOOT_M), FOOT_M, 'ft', pxPerM)
  return bar(roundDown((mostM / FOOT_M) * 12), FOOT_M / 12, 'in', pxPerM)
}

function bar(value: number, unitM: number, unit: ScaleBar['unit'], pxPerM: number): ScaleBar {
  return { value, unit, lengthM: value * unitM, px: value * unitM * pxPerM }
}

function roundDown(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most))
  const step = [5, 2, 1].find((candidate) => candidate * power <= most * (1 + 1e-12)) ?? 1
  return step * power
}
