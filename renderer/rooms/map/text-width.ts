const widths = new Map<string, number>()
let context: CanvasRenderingContext2D | null = null

/** Width of a line in pixels, measured once per text and font. */
export function textWidth(line: string, font: string): number {
  const key = `${font}|${line}`
  const known = widths.get(key)
  if (known !== undefined) return known
  context ??= document.createElement('canvas').getContext('2d')
  if (!context) return line.length * 7
  context.font = font
  const width = context.measureText(line).width
  widths.set(key, width)
  return width
}
