/** Strokes on a 20 x 20 field, drawn for this program. */
const PATHS = {
  undo: 'M7.5 5 3.5 9l4 4M4 9h7.5a4.5 4.5 0 0 1 0 9H9',
  redo: 'M12.5 5l4 4-4 4M16 9H8.5a4.5 4.5 0 0 0 0 9H11',
  find: 'M8.5 3.5a5 5 0 1 1 0 10 5 5 0 0 1 0-10ZM12.3 12.3 17 17',
  help: 'M7 7.4C7 5.4 8.3 4 10.1 4S13 5.3 13 7c0 2.4-3 2.5-3 5M10 15.2v.8',
  sun: 'M10 6.5a3.5 3.5 0 1 1 0 7 3.5 3.5 0 0 1 0-7ZM10 1.8v2M10 16.2v2M1.8 10h2M16.2 10h2M4.2 4.2l1.4 1.4M14.4 14.4l1.4 1.4M15.8 4.2l-1.4 1.4M5.6 14.4l-1.4 1.4',
  moon: 'M16.5 12.2A7 7 0 0 1 7.8 3.5a7 7 0 1 0 8.7 8.7Z',
  half: 'M10 3a7 7 0 1 1 0 14 7 7 0 0 1 0-14ZM10 3v14M10 6.5h5.6M10 10h7M10 13.5h5.6',
  menu: 'M3 5.5h14M3 10h14M3 14.5h14',
  close: 'M5 5l10 10M15 5 5 15',
  add: 'M10 4v12M4 10h12',
  remove: 'M4 10h12',
  edit: 'M4 16l1-4L13.5 3.5l3 3L8 15l-4 1ZM11.5 5.5l3 3',
  down: 'M5 8l5 5 5-5',
  up: 'M5 12l5-5 5 5',
  right: 'M8 5l5 5-5 5',
  left: 'M12 5l-5 5 5 5',
  folder: 'M2.5 5.5h5l1.5 2h8.5v8.5h-15Z',
  file: 'M5 2.5h6.5L15.5 6.5v11H5ZM11 2.5V7h4.5',
  room: 'M3 3.5h14v13H3ZM3 11h4M11 16.5V12',
  facility: 'M3 17V7l5-3.5V17M8 9h9v8M3 17h14M11 12h1M14 12h1',
  person: 'M10 3.2a3.2 3.2 0 1 1 0 6.4 3.2 3.2 0 0 1 0-6.4ZM3.8 17c.5-3.5 3-5.2 6.2-5.2s5.7 1.7 6.2 5.2',
  check: 'M4 10.5l4 4 8-9',
  warn: 'M10 3 18 16.5H2ZM10 8v4M10 14v.6',
  info: 'M10 3a7 7 0 1 1 0 14 7 7 0 0 1 0-14ZM10 9v5M10 6v.5',
  clock: 'M10 3a7 7 0 1 1 0 14 7 7 0 0 1 0-14ZM10 6v4.3l3 1.7',
  gauge: 'M3 14a7 7 0 1 1 14 0M10 14l3.5-5M5.5 14h-1M15.5 14h-1M10 7.5v1',
  compare: 'M4 16V8M8 16V4M12 16v-6M16 16V6M2.5 17.5h15',
  plan: 'M3.5 5h13v12h-13ZM3.5 8.5h13M7 3v3.5M13 3v3.5M7 12h2M11 12h2',
  criteria: 'M3 6h9M3 10h14M3 14h6M14.5 4v4M11.5 12v4',
  trail: 'M5 4a1.5 1.5 0 1 1 0 3 1.5 1.5 0 0 1 0-3ZM5 13a1.5 1.5 0 1 1 0 3 1.5 1.5 0 0 1 0-3ZM5 7v6M9 5.5h8M9 14.5h8',
  settings: 'M3 6h8M15 6h2M13 4.2a1.8 1.8 0 1 1 0 3.6 1.8 1.8 0 0 1 0-3.6ZM3 14h2M9 14h8M7 12.2a1.8 1.8 0 1 1 0 3.6 1.8 1.8 0 0 1 0-3.6Z',
  filter: 'M3.5 3.5h13v13h-13ZM3.5 7.8h13M3.5 12.2h13M7.8 3.5v13M12.2 3.5v13',
  run: 'M4 4h4v4H4ZM12 4h4v4h-4ZM12 12h4v4h-4ZM4 12h4v4H4ZM8 6h4M14 8v4M12 14H8',
  save: 'M10 3v9M6.5 8.5 10 12l3.5-3.5M3.5 13v3.5h13V13',
  open: 'M10 12V3M6.5 6.5 10 3l3.5 3.5M3.5 13v3.5h13V13',
  copy: 'M7 7h9.5v9.5H7ZM4 12.5H3.5v-9h9V4',
  replaced: 'M4 8a6 6 0 0 1 11-1.5M15.5 3v4h-4M16 12a6 6 0 0 1-11 1.5M4.5 17v-4h4',
  note: 'M4 3.5h12v9.5l-4 4H4ZM16 13h-4v4M7 7h6M7 10h4',
  lock: 'M5 9h10v8H5ZM7 9V6.5a3 3 0 0 1 6 0V9',
  certification: 'M5 2.5h10v10l-5 5-5-5ZM7.5 8l2 2 3.5-4',
} as const

export type IconName = keyof typeof PATHS

export function Icon({ name, size = 18 }: { name: IconName; size?: number }) {
  return (
    <svg
      width={size}
      height={size}
      viewBox="0 0 20 20"
      fill="none"
      stroke="currentColor"
      strokeWidth="1.6"
      strokeLinecap="round"
      strokeLinejoin="round"
      aria-hidden="true"
    >
      <path d={PATHS[name]} />
    </svg>
  )
}
