// Why the shed did not do what it was asked, as a person reads it.

import { hasMessage, type Key, t } from '../messages/messages'
import type { Answer } from './ask'

export type Problem = Exclude<Answer<unknown>, { readonly kind: 'ok' }>

export function problemText(problem: Problem): string {
  if (problem.kind === 'unreachable') return t('ask.unreachable')
  const { code, wait } = problem
  if (code === 'wait') return t('ask.wait', { n: Math.max(1, Math.ceil(wait / 60)) })
  const key = `ask.${code}`
  return hasMessage(key) ? t(key as Key & 'ask.code') : t('ask.other', { code })
}
