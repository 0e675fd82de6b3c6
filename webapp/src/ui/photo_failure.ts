// Why a photo was not taken in, what is safe, what to do.

import { t } from '../messages/messages'
import { PhotoProblem } from '../photos/problem'
import { failureText } from './words'

export function photoFailure(reason: unknown): string {
  return reason instanceof PhotoProblem ? t(`photos.problem.${reason.reason}`) : failureText(reason)
}
