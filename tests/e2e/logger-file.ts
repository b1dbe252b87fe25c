/** What a logger wrote, invented: three readings of the open run of P-202, and one of a point that the filter does not have. */
const HEAD = ['Tag', 'Point', 'Velocity [m/s]', 'Time', 'Serial number']
const ROWS = [1, 2, 3, 99].map((point, index) => [`P-202/03`, String(point), `0,4${index}`, `2026-11-20 08:00:0${index}`, `LAC-0417`])

export const LOGGER = {
  fileName: 'logger.csv',
  content: `${[HEAD, ...ROWS].map((cells) => cells.join(';')).join('\n')}\n`,
  /** what a person or the logger wrote in it */
  words: [...HEAD, 'logger.csv', 'logger'],
} as const
