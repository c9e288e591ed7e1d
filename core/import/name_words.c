/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "name_words.h"

static gboolean
is_letter (const char *word)
{
  return g_utf8_strlen (word, -1) == 1;
}

SbNameWords
sb_name_words_read (const char *text)
{
  g_autoptr (GPtrArray) list = sb_words_split (text);
  SbNameWords words = { .n_words = list->len };
  for (guint i = 0; i < list->len; i++) {
    const char *word = list->pdata[i];
    guint kinds = sb_word_kinds (word);
    /* "n" is a speed in front of other words and newtons behind them. */
    gboolean symbol = i == 0 && is_letter (word);
    if (symbol)
      words.symbol = sb_word_symbol (word);
    if (!symbol || !(kinds & SB_WORD_FOREIGN))
      words.kinds |= kinds;
    words.strange = i > 0 && kinds == 0 && !g_ascii_isdigit (word[0]);
  }
  return words;
}

/* The words that suit a unit; none for percent, which suits many. */
static guint
kinds_of_unit (const SbUnit *unit)
{
  static const guint kinds[SB_N_DIMENSIONS] = {
    [SB_DIMENSION_TIME] = SB_WORD_TIME,
    [SB_DIMENSION_ANGLE] = SB_WORD_ANGLE,
    [SB_DIMENSION_VELOCITY] = SB_WORD_VELOCITY,
    [SB_DIMENSION_TORQUE] = SB_WORD_TORQUE,
    [SB_DIMENSION_CURRENT] = SB_WORD_CURRENT,
    [SB_DIMENSION_VOLTAGE] = SB_WORD_VOLTAGE | SB_WORD_SUPPLY,
    [SB_DIMENSION_TEMPERATURE] = SB_WORD_TEMPERATURE,
    [SB_DIMENSION_COUNTS] = SB_WORD_ANGLE,
    [SB_DIMENSION_SAMPLES] = SB_WORD_TIME | SB_WORD_SAMPLE,
    [SB_DIMENSION_CLOCK] = SB_WORD_TIME,
  };
  return unit != NULL ? kinds[unit->dimension] : 0;
}

/* Of several quantities the one a reader would take: a rotation speed is a speed, and the current angle the present
 * one. */
static guint
reduce (guint quantity)
{
  if (quantity & (SB_WORD_ANGLE | SB_WORD_VELOCITY))
    quantity &= ~(guint) SB_WORD_CURRENT;
  if (quantity & SB_WORD_CURRENT)
    quantity &= ~(guint) SB_WORD_TORQUE;
  if (quantity & SB_WORD_VELOCITY)
    quantity &= ~(guint) SB_WORD_ANGLE;
  if (quantity & SB_WORD_SUPPLY)
    quantity &= ~(guint) SB_WORD_VOLTAGE;
  if (quantity & SB_WORD_TIME)
    quantity &= ~(guint) SB_WORD_SAMPLE;
  return quantity;
}

/* What is measured, as one or no SbWordKind. *guessed tells that it rests on a bare letter or on the unit alone. */
static guint
quantity_of (const SbNameWords *words, const SbUnit *unit, gboolean *guessed)
{
  guint quantity = words->kinds & SB_WORD_QUANTITIES;
  guint fitting = kinds_of_unit (unit);
  if ((quantity & SB_WORD_SUPPLY) && (quantity & SB_WORD_CURRENT))
    return 0; /* of the supply, not of the motor */
  if ((quantity & SB_WORD_TORQUE) && unit != NULL && unit->dimension == SB_DIMENSION_VOLTAGE)
    return SB_WORD_TORQUE; /* the voltage of its transducer */
  if (quantity & fitting)
    return reduce (quantity & fitting);
  if (quantity != 0)
    return reduce (quantity);
  if (words->symbol & fitting)
    return reduce (words->symbol & fitting);
  if (unit != NULL && !(words->kinds & SB_WORD_COMMAND)) {
    *guessed = words->n_words > 0;
    return fitting & ~(guint) (SB_WORD_SUPPLY | SB_WORD_SAMPLE);
  }
  if (unit == NULL && words->n_words > 1 && (words->kinds & (SB_WORD_COMMAND | SB_WORD_ACTUAL | SB_WORD_ESTIMATED))) {
    *guessed = TRUE;
    return words->symbol & -words->symbol;
  }
  return 0;
}

static SbRole
role_of_quantity (guint quantity, const SbNameWords *words, gboolean *guessed)
{
  switch (quantity) {
  case SB_WORD_TIME:
    return SB_ROLE_TIME;
  case SB_WORD_SAMPLE:
    *guessed |= words->n_words > 1;
    return SB_ROLE_TIME;
  case SB_WORD_ANGLE:
    return SB_ROLE_ANGLE;
  case SB_WORD_VELOCITY:
    return SB_ROLE_VELOCITY;
  case SB_WORD_TORQUE:
    return SB_ROLE_TORQUE;
  case SB_WORD_CURRENT:
    return SB_ROLE_CURRENT;
  case SB_WORD_TEMPERATURE:
    return SB_ROLE_TEMPERATURE;
  case SB_WORD_SUPPLY:
    return SB_ROLE_SUPPLY;
  case SB_WORD_VOLTAGE:
    *guessed = TRUE;
    return words->kinds & SB_WORD_MOTOR ? SB_ROLE_OTHER : SB_ROLE_SUPPLY;
  default: /* none, or several at once */
    return SB_ROLE_OTHER;
  }
}

SbRole
sb_name_words_role (const SbNameWords *words, const SbUnit *unit, gboolean *guessed)
{
  *guessed = FALSE;
  if (words->kinds & SB_WORD_OTHER)
    return SB_ROLE_OTHER;
  if (words->n_words == 1 && unit == NULL && words->symbol != 0 && !(words->kinds & SB_WORD_QUANTITIES)) {
    *guessed = (words->symbol & SB_WORD_COMMAND) != 0;
    return words->symbol & SB_WORD_COMMAND ? SB_ROLE_COMMAND
           : words->symbol & SB_WORD_TIME  ? SB_ROLE_TIME
                                           : SB_ROLE_OTHER;
  }
  guint quantity = quantity_of (words, unit, guessed);
  gboolean command = (words->kinds & SB_WORD_COMMAND)
                     || (words->n_words == 1 && (words->symbol & SB_WORD_COMMAND) && quantity == SB_WORD_TORQUE);
  if (!command)
    return role_of_quantity (quantity, words, guessed);
  *guessed = FALSE;
  return quantity == 0 || quantity == SB_WORD_TORQUE || quantity == SB_WORD_CURRENT ? SB_ROLE_COMMAND : SB_ROLE_OTHER;
}

gboolean
sb_name_words_count (const SbNameWords *words, SbRole role)
{
  if (words->strange)
    return FALSE;
  if (role == SB_ROLE_ANGLE)
    return (words->kinds & SB_WORD_RAW) != 0;
  guint beside
      = SB_WORDS_SAY_NOTHING | SB_WORD_ENCODER | (words->kinds & SB_WORD_RAW ? SB_WORD_RAW | SB_WORD_FOREIGN : 0);
  return role == SB_ROLE_OTHER && (words->kinds & SB_WORD_ENCODER) != 0 && (words->kinds & ~beside) == 0;
}

gboolean
sb_name_words_before_letter (const SbNameWords *words, const char *suffix)
{
  gboolean says = (words->kinds & ~(guint) SB_WORD_PLAIN) != 0 || words->symbol != 0;
  return g_ascii_isupper (suffix[0]) && suffix[1] == '\0' && words->n_words > 0 && !says;
}
