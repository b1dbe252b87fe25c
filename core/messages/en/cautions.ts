const SITE_FIRST = "Follow the site's procedures and local codes; they come first."

/** Cautions before the first reading of a run. Each stands alone, so each says who decides. */
export const cautions = {
  'caution.height': () =>
    `Work at height: use a sound ladder or platform on firm ground, keep three points of contact, have a second person near. A filter ceiling does not carry a person. ${SITE_FIRST}`,
  'caution.fans': () =>
    `Fan filter units are powered and turn: keep the casing closed. Before anything is opened, have it switched off and locked out by someone who is authorised. ${SITE_FIRST}`,
  'caution.ducts': () =>
    `Ducts: moving fans, hot or energised parts and sharp edges may lie behind an opening. Have the fan locked out before a hole is drilled or a hatch opened, watch for cables and gas, and close every port afterwards. Exhaust ducts may be contaminated inside. ${SITE_FIRST}`,
  'caution.hood': () =>
    `A capture hood is heavy and blocks the view: lift it with two people or a stand, keep clear of sprinklers and lamps, and do not press on the filter or its frame. ${SITE_FIRST}`,
  'caution.sterile': () =>
    `Sterile area: gown as required, wipe the instrument and its probe, do not touch the filter face or the product path. The area may need cleaning and release afterwards. ${SITE_FIRST}`,
  'caution.hazardous_drug': () =>
    `Hazardous drugs: surfaces and filters may be contaminated. Enter with the protective clothing and gloves that the site asks for; a surgical mask does not protect your breathing. Do not disturb filters or cabinets. ${SITE_FIRST}`,
  'caution.biological': () =>
    `Biological agents: start only with the site's written clearance. Nothing that may be contaminated is opened before it has been decontaminated by qualified people. ${SITE_FIRST}`,
  'caution.aerosol': () =>
    `Test aerosol in use: keep it off product and skin, as little as will do, and tell the site before smoke detectors are affected. ${SITE_FIRST}`,
  'caution.pressure': () =>
    `Air and pressure protect people and product: leave doors and dampers as you are told, never overridden, and a containment room must stay negative. ${SITE_FIRST}`,
  'caution.site_first': () =>
    `This program supports licensed practice and does not replace it. If anything looks unsafe, stop and ask the person responsible. ${SITE_FIRST}`,
}
