/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "vocabulary.h"

#include <string.h>

/* Common practice of loggers and data sheets, from memory. Where languages share a word it is listed once. */
static const SbVocabulary vocabulary[] = {
  { SB_WORD_TIME, "English", "time timestamp elapsed datetime" },
  { SB_WORD_TIME, "German", "Zeit Zeitstempel Uhrzeit" },
  { SB_WORD_TIME, "French", "temps horodatage durée heure" },
  { SB_WORD_TIME, "Italian", "tempo ora" },
  { SB_WORD_TIME, "Spanish", "tiempo hora" },
  { SB_WORD_TIME, "Dutch", "tijd tijdstempel" },
  { SB_WORD_TIME, "Polish", "czas" },
  { SB_WORD_TIME, "Portuguese", "tempo hora" },
  { SB_WORD_TIME, "Swedish", "tid tidsstämpel" },
  { SB_WORD_TIME, "Czech", "čas" },
  { SB_WORD_TIME, "Japanese", "時間 時刻 経過時間" },

  { SB_WORD_SAMPLE, "English", "sample samples index idx tick ticks" },
  { SB_WORD_SAMPLE, "German", "Abtastung Messpunkt" },
  { SB_WORD_SAMPLE, "French", "échantillon" },
  { SB_WORD_SAMPLE, "Italian", "campione" },
  { SB_WORD_SAMPLE, "Spanish", "muestra" },
  { SB_WORD_SAMPLE, "Dutch", "monster" },
  { SB_WORD_SAMPLE, "Polish", "próbka" },
  { SB_WORD_SAMPLE, "Portuguese", "amostra" },
  { SB_WORD_SAMPLE, "Swedish", "sampel" },
  { SB_WORD_SAMPLE, "Czech", "vzorek" },
  { SB_WORD_SAMPLE, "Japanese", "サンプル" },

  { SB_WORD_COMMAND, "English",
    "command commanded cmd setpoint set demand demanded target desired requested request reference ref" },
  { SB_WORD_COMMAND, "German", "Soll Sollwert Vorgabe Führungsgröße Ziel" },
  { SB_WORD_COMMAND, "French", "consigne commande cible" },
  { SB_WORD_COMMAND, "Italian", "comando riferimento richiesto richiesta obiettivo" },
  { SB_WORD_COMMAND, "Spanish", "consigna mando referencia objetivo deseado deseada" },
  { SB_WORD_COMMAND, "Dutch", "gewenst gewenste streefwaarde doel" },
  { SB_WORD_COMMAND, "Polish", "zadany zadana zadane zadanie" },
  { SB_WORD_COMMAND, "Portuguese", "comando referência alvo desejado desejada pedido pedida" },
  { SB_WORD_COMMAND, "Swedish", "börvärde bör referens önskat" },
  { SB_WORD_COMMAND, "Czech", "žádaný žádaná požadovaný požadovaná zadaný" },
  { SB_WORD_COMMAND, "Japanese", "指令 指令値 目標 目標値" },

  { SB_WORD_ANGLE, "English", "angle position pos rotation theta phi" },
  { SB_WORD_ANGLE, "German", "Winkel Lage" },
  { SB_WORD_ANGLE, "French", "angle position" },
  { SB_WORD_ANGLE, "Italian", "angolo posizione" },
  { SB_WORD_ANGLE, "Spanish", "ángulo posición" },
  { SB_WORD_ANGLE, "Dutch", "hoek positie" },
  { SB_WORD_ANGLE, "Polish", "kąt pozycja położenie" },
  { SB_WORD_ANGLE, "Portuguese", "ângulo posição" },
  { SB_WORD_ANGLE, "Swedish", "vinkel läge" },
  { SB_WORD_ANGLE, "Czech", "úhel poloha" },
  { SB_WORD_ANGLE, "Japanese", "角度 位置 舵角" },
  { SB_WORD_ANGLE, "symbols", "θ ϑ φ ϕ" },

  { SB_WORD_VELOCITY, "English", "velocity vel speed omega" },
  { SB_WORD_VELOCITY, "German", "Geschwindigkeit Winkelgeschwindigkeit Drehzahl" },
  { SB_WORD_VELOCITY, "French", "vitesse régime" },
  { SB_WORD_VELOCITY, "Italian", "velocità" },
  { SB_WORD_VELOCITY, "Spanish", "velocidad" },
  { SB_WORD_VELOCITY, "Dutch", "snelheid hoeksnelheid toerental" },
  { SB_WORD_VELOCITY, "Polish", "prędkość obroty" },
  { SB_WORD_VELOCITY, "Portuguese", "velocidade rotação" },
  { SB_WORD_VELOCITY, "Swedish", "hastighet vinkelhastighet varvtal" },
  { SB_WORD_VELOCITY, "Czech", "rychlost otáčky" },
  { SB_WORD_VELOCITY, "Japanese", "速度 角速度 回転数 回転速度" },
  { SB_WORD_VELOCITY, "symbols", "ω" },

  { SB_WORD_TORQUE, "English", "torque trq tq moment tau" },
  { SB_WORD_TORQUE, "German", "Drehmoment Moment" },
  { SB_WORD_TORQUE, "French", "couple" },
  { SB_WORD_TORQUE, "Italian", "coppia momento" },
  { SB_WORD_TORQUE, "Spanish", "par momento" },
  { SB_WORD_TORQUE, "Dutch", "koppel" },
  { SB_WORD_TORQUE, "Polish", "moment" },
  { SB_WORD_TORQUE, "Portuguese", "torque binário" },
  { SB_WORD_TORQUE, "Swedish", "vridmoment" },
  { SB_WORD_TORQUE, "Czech", "moment" },
  { SB_WORD_TORQUE, "Japanese", "トルク" },
  { SB_WORD_TORQUE, "symbols", "τ" },

  { SB_WORD_CURRENT, "English", "current iq" },
  { SB_WORD_CURRENT, "German", "Strom" },
  { SB_WORD_CURRENT, "French", "courant intensité" },
  { SB_WORD_CURRENT, "Italian", "corrente" },
  { SB_WORD_CURRENT, "Spanish", "corriente" },
  { SB_WORD_CURRENT, "Dutch", "stroom" },
  { SB_WORD_CURRENT, "Polish", "prąd" },
  { SB_WORD_CURRENT, "Portuguese", "corrente" },
  { SB_WORD_CURRENT, "Swedish", "ström" },
  { SB_WORD_CURRENT, "Czech", "proud" },
  { SB_WORD_CURRENT, "Japanese", "電流" },

  { SB_WORD_TEMPERATURE, "English", "temperature temp" },
  { SB_WORD_TEMPERATURE, "German", "Temperatur" },
  { SB_WORD_TEMPERATURE, "French", "température" },
  { SB_WORD_TEMPERATURE, "Italian", "temperatura" },
  { SB_WORD_TEMPERATURE, "Spanish", "temperatura" },
  { SB_WORD_TEMPERATURE, "Dutch", "temperatuur" },
  { SB_WORD_TEMPERATURE, "Polish", "temperatura" },
  { SB_WORD_TEMPERATURE, "Portuguese", "temperatura" },
  { SB_WORD_TEMPERATURE, "Swedish", "temperatur" },
  { SB_WORD_TEMPERATURE, "Czech", "teplota" },
  { SB_WORD_TEMPERATURE, "Japanese", "温度" },

  { SB_WORD_VOLTAGE, "English", "voltage volt" },
  { SB_WORD_VOLTAGE, "German", "Spannung" },
  { SB_WORD_VOLTAGE, "French", "tension" },
  { SB_WORD_VOLTAGE, "Italian", "tensione" },
  { SB_WORD_VOLTAGE, "Spanish", "tensión voltaje" },
  { SB_WORD_VOLTAGE, "Dutch", "spanning" },
  { SB_WORD_VOLTAGE, "Polish", "napięcie" },
  { SB_WORD_VOLTAGE, "Portuguese", "tensão" },
  { SB_WORD_VOLTAGE, "Swedish", "spänning" },
  { SB_WORD_VOLTAGE, "Czech", "napětí" },
  { SB_WORD_VOLTAGE, "Japanese", "電圧" },

  { SB_WORD_SUPPLY, "English", "supply bus vbus ubus vdc udc vsupply vbat vbatt ubat psu battery dclink" },
  { SB_WORD_SUPPLY, "German", "Versorgung Versorgungsspannung Netzteil Zwischenkreis" },
  { SB_WORD_SUPPLY, "French", "alimentation" },
  { SB_WORD_SUPPLY, "Italian", "alimentazione" },
  { SB_WORD_SUPPLY, "Spanish", "alimentación" },
  { SB_WORD_SUPPLY, "Dutch", "voeding voedingsspanning" },
  { SB_WORD_SUPPLY, "Polish", "zasilanie zasilania" },
  { SB_WORD_SUPPLY, "Portuguese", "alimentação" },
  { SB_WORD_SUPPLY, "Swedish", "matning matningsspänning" },
  { SB_WORD_SUPPLY, "Czech", "napájení napájecí" },
  { SB_WORD_SUPPLY, "Japanese", "電源" },

  { SB_WORD_ACTUAL, "English", "actual act measured meas real observed feedback fb sensor encoder resolver" },
  { SB_WORD_ACTUAL, "German", "Ist Istwert gemessen Messwert" },
  { SB_WORD_ACTUAL, "French", "mesure mesuré mesurée réel réelle" },
  { SB_WORD_ACTUAL, "Italian", "misura misurato misurata effettivo effettiva reale attuale" },
  { SB_WORD_ACTUAL, "Spanish", "medido medida real actual" },
  { SB_WORD_ACTUAL, "Dutch", "gemeten werkelijk werkelijke actueel" },
  { SB_WORD_ACTUAL, "Polish", "zmierzony zmierzona rzeczywisty rzeczywista" },
  { SB_WORD_ACTUAL, "Portuguese", "medido medida atual" },
  { SB_WORD_ACTUAL, "Swedish", "ärvärde uppmätt verklig verkligt" },
  { SB_WORD_ACTUAL, "Czech", "skutečný skutečná naměřený měřený měřená" },
  { SB_WORD_ACTUAL, "Japanese", "実 実測 実際 測定 計測" },

  { SB_WORD_ESTIMATED, "English",
    "estimated est estimate calculated calc computed derived modelled modeled simulated observer" },
  { SB_WORD_ESTIMATED, "German", "geschätzt berechnet" },
  { SB_WORD_ESTIMATED, "French", "estimé estimée calculé calculée" },
  { SB_WORD_ESTIMATED, "Italian", "stimato stimata calcolato calcolata" },
  { SB_WORD_ESTIMATED, "Spanish", "estimado estimada calculado calculada" },
  { SB_WORD_ESTIMATED, "Dutch", "geschat geschatte berekend berekende" },
  { SB_WORD_ESTIMATED, "Polish", "szacowany szacowana obliczony obliczona" },
  { SB_WORD_ESTIMATED, "Portuguese", "estimado estimada calculado calculada" },
  { SB_WORD_ESTIMATED, "Swedish", "uppskattad uppskattat beräknad beräknat" },
  { SB_WORD_ESTIMATED, "Czech", "odhadovaný odhadovaná odhad vypočtený vypočtená" },
  { SB_WORD_ESTIMATED, "Japanese", "推定 推定値 計算値" },

  { SB_WORD_OTHER, "English",
    "error err slope derivative rate acceleration accel acc jerk sd std sigma noise limit max min power gain offset "
    "id energy" },
  { SB_WORD_OTHER, "German",
    "Fehler Abweichung Beschleunigung Winkelbeschleunigung Leistung Grenze Grenzwert Rauschen" },
  { SB_WORD_OTHER, "French", "erreur écart accélération puissance limite pente bruit" },
  { SB_WORD_OTHER, "Italian", "errore accelerazione potenza scarto" },
  { SB_WORD_OTHER, "Spanish", "aceleración potencia límite" },
  { SB_WORD_OTHER, "Dutch", "fout versnelling vermogen limiet" },
  { SB_WORD_OTHER, "Polish", "błąd uchyb przyspieszenie moc" },
  { SB_WORD_OTHER, "Portuguese", "erro aceleração potência" },
  { SB_WORD_OTHER, "Swedish", "fel avvikelse effekt gräns" },
  { SB_WORD_OTHER, "Czech", "chyba odchylka zrychlení výkon mez" },
  { SB_WORD_OTHER, "Japanese", "誤差 偏差 加速度 角加速度 電力" },

  { SB_WORD_ENCODER, "all", "encoder enc counts Drehgeber codeur encodeur エンコーダ エンコーダー" },
  { SB_WORD_RAW, "all", "raw lsb" },

  { SB_WORD_ELECTRICAL, "all",
    "electrical electric elec elektrisch elektrische elektrischer elektr él électrique elettrico elettrica eléctrico "
    "eléctrica elétrico elétrica elektryczny elektryczna elektrisk elektriskt elektrický elektrická 電気 電気角" },

  { SB_WORD_FOREIGN, "units", "m mm cm km w n kn kg raw lsb adc grad" },

  { SB_WORD_MOTOR, "all", "motor moteur motore モーター モータ silnik silnika phase fas q d" },

  { SB_WORD_PLAIN, "English",
    "rim wheel shaft steering steer base drive axis joint output out input in angular rotational filtered filt "
    "smoothed signal value channel ch column col mean average avg total log logged number no "
    "of the x y z" },
  { SB_WORD_PLAIN, "German", "Lenkrad Lenk Rad Welle Antrieb Wert Kanal gefiltert Mittelwert Nummer Nr" },
  { SB_WORD_PLAIN, "French", "volant arbre du de la angulaire filtré valeur voie" },
  { SB_WORD_PLAIN, "Italian", "volante albero del di angolare filtrato valore canale" },
  { SB_WORD_PLAIN, "Spanish", "eje angular filtrado valor" },
  { SB_WORD_PLAIN, "Dutch", "stuur stuurwiel as gefilterd waarde kanaal" },
  { SB_WORD_PLAIN, "Polish", "kierownicy obrotowy obrotowa kątowa kątowy wartość kanał" },
  { SB_WORD_PLAIN, "Portuguese", "eixo do da filtrado valor" },
  { SB_WORD_PLAIN, "Swedish", "ratt axel filtrerat värde kanal" },
  { SB_WORD_PLAIN, "Czech", "volantu hřídele krouticí točivý úhlová hodnota kanál" },
  { SB_WORD_PLAIN, "Japanese", "値 軸 ステアリング ハンドル" },
};

static const struct {
  const char *letter;
  guint kinds;
} symbols[] = {
  { "t", SB_WORD_TIME | SB_WORD_TORQUE | SB_WORD_TEMPERATURE },
  { "m", SB_WORD_TORQUE },
  { "c", SB_WORD_TORQUE },
  { "n", SB_WORD_VELOCITY },
  { "w", SB_WORD_VELOCITY },
  { "v", SB_WORD_VELOCITY | SB_WORD_VOLTAGE },
  { "i", SB_WORD_CURRENT },
  { "u", SB_WORD_VOLTAGE | SB_WORD_COMMAND },
  { "θ", SB_WORD_ANGLE },
  { "ϑ", SB_WORD_ANGLE },
  { "φ", SB_WORD_ANGLE },
  { "ϕ", SB_WORD_ANGLE },
  { "α", SB_WORD_ANGLE },
  { "ω", SB_WORD_VELOCITY },
  { "τ", SB_WORD_TORQUE },
};

/* A part of a compound has at least so many letters, so that chance does not make one; a sign of Japanese is a word. */
#define SHORTEST_PART 3
/* No word is longer, however much it is put together from. */
#define LONGEST_WORD 60

const SbVocabulary *
sb_vocabulary_at (guint index)
{
  return index < G_N_ELEMENTS (vocabulary) ? &vocabulary[index] : NULL;
}

/* Small letters without accents: "Führungsgröße" -> "fuhrungsgroße". */
static char *
fold (const char *word)
{
  g_autofree char *lower = g_utf8_strdown (word, -1);
  g_autofree char *parts = g_utf8_normalize (lower, -1, G_NORMALIZE_DEFAULT);
  GString *folded = g_string_new (NULL);
  for (const char *p = parts != NULL ? parts : ""; *p != '\0'; p = g_utf8_next_char (p)) {
    gunichar letter = g_utf8_get_char (p);
    if (!g_unichar_ismark (letter))
      g_string_append_unichar (folded, letter);
  }
  return g_string_free (folded, FALSE);
}

static void
add_words (GHashTable *kinds, const SbVocabulary *row)
{
  g_auto (GStrv) words = g_strsplit (row->words, " ", -1);
  for (guint i = 0; words[i] != NULL; i++) {
    char *folded = fold (words[i]);
    guint before = GPOINTER_TO_UINT (g_hash_table_lookup (kinds, folded));
    /* "moment" is one word in four languages, and "actual" in two. */
    g_hash_table_insert (kinds, folded, GUINT_TO_POINTER (before | row->kind));
  }
}

/* Folded word -> SbWordKinds; the same table as above, arranged once for looking up. */
static GHashTable *
known_words (void)
{
  static gsize arranged = 0;
  if (g_once_init_enter (&arranged)) {
    GHashTable *kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    for (guint i = 0; i < G_N_ELEMENTS (vocabulary); i++)
      add_words (kinds, &vocabulary[i]);
    g_once_init_leave (&arranged, (gsize) kinds);
  }
  return (GHashTable *) arranged;
}

static guint
kinds_of_part (const char *text, gsize length)
{
  g_autofree char *part = g_strndup (text, length);
  return GPOINTER_TO_UINT (g_hash_table_lookup (known_words (), part));
}

static gboolean
may_be_part (const char *text, gsize length)
{
  gunichar first = g_utf8_get_char (text);
  return first > 0x2e7f || g_utf8_strlen (text, (gssize) length) >= SHORTEST_PART;
}

/* The kinds of all parts when the whole word is made of known ones, the longest first; a German "s" may join them. */
static guint
kinds_of_compound (const char *word, gsize length)
{
  for (gsize n = length; n > 0; n = (gsize) (g_utf8_find_prev_char (word, word + n) - word)) {
    guint kinds = may_be_part (word, n) ? kinds_of_part (word, n) : 0;
    if (kinds == 0)
      continue;
    if (n == length)
      return kinds;
    guint rest = kinds_of_compound (word + n, length - n);
    if (rest == 0 && word[n] == 's')
      rest = kinds_of_compound (word + n + 1, length - n - 1);
    if (rest != 0)
      return kinds | rest;
  }
  return 0;
}

guint
sb_word_kinds (const char *word)
{
  gsize length = strlen (word);
  if (length == 0 || length > LONGEST_WORD)
    return 0;
  g_autofree char *folded = fold (word);
  length = strlen (folded);
  while (length > 2 && g_ascii_isdigit (folded[length - 1]))
    length--;
  guint kinds = kinds_of_part (folded, length);
  return kinds != 0 ? kinds : kinds_of_compound (folded, length);
}

gboolean
sb_words_say (const char *name, guint kinds)
{
  g_autoptr (GPtrArray) words = sb_words_split (name);
  for (guint i = 0; i < words->len; i++)
    if ((sb_word_kinds (words->pdata[i]) & kinds) != 0)
      return TRUE;
  return FALSE;
}

gboolean
sb_words_say_tick (const char *name)
{
  g_autoptr (GPtrArray) words = sb_words_split (name);
  for (guint i = 0; i < words->len; i++)
    if (strcmp (words->pdata[i], "tick") == 0 || strcmp (words->pdata[i], "ticks") == 0)
      return TRUE;
  return FALSE;
}

gboolean
sb_words_say_unit (const char *text, char **others)
{
  static const char *const names[]
      = { "unit",   "units",    "einheit",  "einheiten", "unité",     "unités",    "unità",
          "unidad", "unidades", "eenheid",  "eenheden",  "jednostka", "jednostki", "unidade",
          "enhet",  "enheter",  "jednotka", "jednotky",  "単位",      NULL };
  g_autoptr (GPtrArray) words = sb_words_split (text);
  GString *rest = g_string_new (NULL);
  gboolean says = FALSE;
  for (guint i = 0; i < words->len; i++) {
    gboolean is_unit = g_strv_contains (names, words->pdata[i]);
    says = says || is_unit;
    if (!is_unit)
      g_string_append_printf (rest, "%s%s", rest->len > 0 ? " " : "", (const char *) words->pdata[i]);
  }
  if (others != NULL && says)
    *others = g_string_free (rest, FALSE);
  else
    g_string_free (rest, TRUE);
  return says;
}

gboolean
sb_words_say_angular (const char *name)
{
  static const char *const stems[] = { "omega",        "ω",          "angular", "angulaire", "angolare", "winkelgeschw",
                                       "hoeksnelheid", "vinkelhast", "katowa",  "uhlova" };
  g_autofree char *folded = fold (name);
  for (guint i = 0; i < G_N_ELEMENTS (stems); i++)
    if (strstr (folded, stems[i]) != NULL)
      return TRUE;
  return strstr (name, "角速度") != NULL;
}

guint
sb_word_symbol (const char *letter)
{
  for (guint i = 0; i < G_N_ELEMENTS (symbols); i++)
    if (strcmp (symbols[i].letter, letter) == 0)
      return symbols[i].kinds;
  return 0;
}

gboolean
sb_word_says_grad_for_degree (const char *word)
{
  /* Not "Position", which other languages write alike. */
  static const char *const stems[] = { "winkel", "vinkel", "geschwindigkeit", "drehzahl", "hastighet" };
  g_autofree char *folded = fold (word);
  for (guint i = 0; i < G_N_ELEMENTS (stems); i++)
    if (strstr (folded, stems[i]) != NULL)
      return TRUE;
  return strcmp (folded, "lage") == 0;
}

GPtrArray *
sb_words_split (const char *text)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  GString *word = g_string_new (NULL);
  gboolean after_small = FALSE;
  const char *p = text;
  for (gunichar letter = 1; letter != 0; p += g_utf8_skip[(guchar) *p]) {
    letter = g_utf8_get_char (p);
    /* An accent may be written as a letter of its own behind the one it belongs to. */
    gboolean in_word = g_unichar_isalnum (letter) || (word->len > 0 && g_unichar_ismark (letter));
    if (word->len > 0 && (!in_word || (after_small && g_unichar_isupper (letter)))) {
      g_ptr_array_add (words, g_strdup (word->str));
      g_string_truncate (word, 0);
    }
    if (in_word)
      g_string_append_unichar (word, g_unichar_tolower (letter));
    after_small = g_unichar_islower (letter);
  }
  g_string_free (word, TRUE);
  return words;
}
