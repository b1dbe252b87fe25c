import { Fragment } from 'react'
import styles from './whole-tags.module.css'

const TAGGED = /(\S*-\S*\d\S*)/

/** A sentence whose tags and serial numbers ("F-101/14") are never broken at their hyphens. */
export function WholeTags({ text }: { text: string }) {
  let read = 0
  return text.split(TAGGED).map((part) => {
    const key = read
    read += part.length + 1
    // A part has no identity but its place in the sentence.
    return TAGGED.test(part) ? (
      <span key={key} className={styles.whole}>
        {part}
      </span>
    ) : (
      <Fragment key={key}>{part}</Fragment>
    )
  })
}
