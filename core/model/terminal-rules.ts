import type { Door } from './places.ts'
import { checkEntered, type RuleProblem } from './rule-problem.ts'
import type { Duct, FlowElement, Terminal } from './terminals.ts'

/** Effective and gross area of one face, both typed, may differ in the last digit of a conversion. */
const AREA_TOLERANCE = 1e-9

function checkFace({ grossWidth, grossDepth, effectiveArea }: Terminal): RuleProblem[] {
  const sizes = [
    ...checkEntered('grossWidth', grossWidth, 'length', 'above_zero'),
    ...checkEntered('grossDepth', grossDepth, 'length', 'above_zero'),
    ...checkEntered('effectiveArea', effectiveArea, 'area', 'above_zero'),
  ]
  const grossM2 = grossWidth.si * grossDepth.si
  if (sizes.length === 0 && effectiveArea.si > grossM2 * (1 + AREA_TOLERANCE)) {
    sizes.push({ field: 'effectiveArea', code: 'rule.effective_above_gross', params: { effectiveM2: effectiveArea.si, grossM2 } })
  }
  return sizes
}

function checkDuct({ section, rule, straightBefore, straightAfter }: Duct): RuleProblem[] {
  const size =
    section.shape === 'round'
      ? checkEntered('duct.section.diameter', section.diameter, 'length', 'above_zero')
      : [
          ...checkEntered('duct.section.width', section.width, 'length', 'above_zero'),
          ...checkEntered('duct.section.height', section.height, 'length', 'above_zero'),
        ]
  const fits = rule === 'equal_area' || (rule === 'log_linear') === (section.shape === 'round')
  return [
    ...size,
    ...(fits ? [] : [{ field: 'duct.rule', code: 'rule.traverse_rule_shape', params: { rule, shape: section.shape } } as const]),
    ...checkEntered('duct.straightBefore', straightBefore, 'length', 'not_below_zero'),
    ...checkEntered('duct.straightAfter', straightAfter, 'length', 'not_below_zero'),
  ]
}

function checkFlowElement(element: FlowElement): RuleProblem[] {
  if (element.kind === 'stated') return checkEntered('flowElement.flowAtOnePascal', element.flowAtOnePascal, 'flow', 'above_zero')
  const { boreDiameter, ductDiameter } = element
  const sizes = [
    ...checkEntered('flowElement.boreDiameter', boreDiameter, 'length', 'above_zero'),
    ...checkEntered('flowElement.ductDiameter', ductDiameter, 'length', 'above_zero'),
  ]
  if (sizes.length > 0 || boreDiameter.si < ductDiameter.si) return sizes
  return [{ field: 'flowElement.boreDiameter', code: 'rule.bore_not_below_duct', params: {} }]
}

/** A terminal: face inside its frame, sizes above zero, a traverse rule that its duct's shape has, a bore inside its duct. */
export function checkTerminal(terminal: Terminal): RuleProblem[] {
  return [
    ...checkFace(terminal),
    ...checkEntered('designVelocity', terminal.designVelocity, 'velocity', 'above_zero'),
    ...checkEntered('designFlow', terminal.designFlow, 'flow', 'above_zero'),
    ...(terminal.duct ? checkDuct(terminal.duct) : []),
    ...(terminal.flowElement ? checkFlowElement(terminal.flowElement) : []),
  ]
}

/** A door: two different rooms or a room and the outside; its pressure and its known air in units that fit. */
export function checkDoor(door: Door): RuleProblem[] {
  return [
    ...(door.roomIds[0] === door.roomIds[1] ? [{ field: 'roomIds', code: 'rule.same_room_twice', params: {} } as const] : []),
    ...checkEntered('leastPressureDifference', door.leastPressureDifference, 'pressure'),
    ...checkEntered('transfer.flow', door.transfer?.flow ?? null, 'flow'),
  ]
}
