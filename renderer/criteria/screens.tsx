export { CriteriaSetScreen } from './criteria-editor.tsx'
export { CriteriaScreen } from './criteria-list.tsx'
