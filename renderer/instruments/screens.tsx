export { InstrumentScreen } from './instrument-editor.tsx'
export { InstrumentsScreen } from './instrument-list.tsx'
