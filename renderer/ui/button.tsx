import { Button as BaseButton } from '@base-ui/react/button'
import type { ComponentPropsWithRef, ReactNode } from 'react'
import styles from './button.module.css'
import { joined } from './class-names.ts'
import { Icon, type IconName } from './icon.tsx'
import { Tooltip } from './tooltip.tsx'

/** `link` is the name of a thing that it opens, in line with what stands above and below. */
export type ButtonKind = 'plain' | 'primary' | 'quiet' | 'danger' | 'link'

type ButtonProps = Omit<ComponentPropsWithRef<'button'>, 'className' | 'children'> & {
  kind?: ButtonKind
  /** 44 px and more: wherever a glove may touch */
  large?: boolean
  icon?: IconName
  pressed?: boolean
  /** stays reachable by keyboard while disabled, so that the focus is not lost */
  focusableWhenDisabled?: boolean
  children: ReactNode
  className?: string
}

export function Button({ kind = 'plain', large = false, icon, pressed, children, className, type = 'button', ...rest }: ButtonProps) {
  return (
    <BaseButton
      {...rest}
      type={type}
      aria-pressed={pressed}
      className={joined(styles.button, kind !== 'plain' && styles[kind], large && styles.large, pressed && styles.pressed, className)}
    >
      {icon ? <Icon name={icon} /> : null}
      {children}
    </BaseButton>
  )
}

type IconButtonProps = Omit<ButtonProps, 'children' | 'icon'> & {
  icon: IconName
  /** what it does, in words: accessible name and tooltip */
  label: string
  /** keys as a person presses them, shown in the tooltip */
  keys?: string
}

export function IconButton({
  icon,
  label,
  keys,
  kind = 'quiet',
  large = false,
  pressed,
  className,
  type = 'button',
  ...rest
}: IconButtonProps) {
  return (
    <Tooltip text={label} keys={keys}>
      <BaseButton
        {...rest}
        type={type}
        aria-label={label}
        aria-pressed={pressed}
        className={joined(
          styles.button,
          styles.icon,
          kind !== 'plain' && styles[kind],
          large && styles.large,
          pressed && styles.pressed,
          className,
        )}
      >
        <Icon name={icon} />
      </BaseButton>
    </Tooltip>
  )
}
