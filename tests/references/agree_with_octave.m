% SPDX-License-Identifier: GPL-3.0-or-later
% Second-order steps and the demo bench, measured by the program and once more by GNU Octave 7.3 with its packages control
% 3.4.0 and signal 1.4.3 (Debian: octave-control, octave-signal): what has one definition agrees to 1e-9. The responses are
% made by control's `step`, as the SciPy comparison has them from scipy.signal; frequency and damping ratio are those that
% control's `damp` tells of the system, slopes are filtered by signal's `sgolay`, and crests are looked for by `findpeaks`.
% Usage: octave-cli --norc agree_with_octave.m PROGRAM DEMO_DATA. Exit status 77, skipped, where a package is missing.
1;

function agree (what, ours, theirs, scale)
  global n_checked
  n_checked += 1;
  if (nargin < 4)
    scale = abs (theirs);
  endif
  if (! (abs (ours - theirs) <= 1e-9 * scale))
    printf ("%s: %.17g against %.17g\n", what, ours, theirs);
    exit (1);
  endif
endfunction

function within (what, ours, theirs, reach)
  global n_checked
  n_checked += 1;
  if (! (abs (ours - theirs) <= reach))
    printf ("%s: %.17g against %.17g, which is more than %g away\n", what, ours, theirs, reach);
    exit (1);
  endif
endfunction

function results = measured (program, folder)
  [status, text] = system (["'" program "' measure --json " folder]);
  if (status > 1)
    printf ("%s ended with %d\n", program, status);
    exit (1);
  endif
  results = jsondecode (text);
endfunction

% A cell array, whether jsondecode made one or, of objects that are alike, a structure array.
function list = as_list (read)
  list = read;
  if (isstruct (read))
    list = num2cell (read);
  endif
endfunction

function instant = crossing (t, y, level)
  i = find (y(1:end - 1) < level & y(2:end) >= level, 1);
  instant = t(i) + (t(i + 1) - t(i)) * (level - y(i)) / (y(i + 1) - y(i));
endfunction

% The trial's times from its onset, its torque, and what was measured, of a step of `top` to all digits.
function [t, y, measures] = step_trial (program, zeta, wn, rate_hz, top, noise)
  before = 400;
  n = before + round (rate_hz * 40 / (zeta * wn));
  seconds = (0:n - 1)' / rate_hz;
  y = zeros (n, 1);
  y(before + 1:end) = top * step (tf (wn ^ 2, [1, 2 * zeta * wn, wn ^ 2]), seconds(1:n - before));
  y += noise * top * randn (n, 1);
  folder = tempname ();
  mkdir (folder);
  file = fopen ([folder "/step.csv"], "w");
  fprintf (file, "time_s,command_Nm,torque_Nm\n");
  fprintf (file, "%.17g,%g,%.17g\n", [seconds, top * ((1:n)' > before), y]');
  fclose (file);
  measures = as_list (measured (program, ["'" folder "'"]).configurations.trials){1}.measures;
  delete ([folder "/step.csv"]);
  rmdir (folder);
  t = seconds - seconds(before + 1);
endfunction

function check_peak_slope (measure, t, torque)
  first = find (t >= measure.window_s(1) - 1e-9, 1);
  last = find (t <= measure.window_s(2) + 1e-9, 1, "last");
  n = last - first + 1;
  slopes = sgolayfilt (torque(first - n:last + n), 2, n, 1, (t(last) - t(first)) / (n - 1));
  agree ("peak slope", measure.value, slopes(n + (n + 1) / 2));
  % It is the steepest of those whose windows lie about it.
  agree ("steepest slope", measure.value, max (slopes((n + 1) / 2:end - (n - 1) / 2)));
endfunction

% The top level is taken from the overshoot, since a histogram finds it to half a bin; all else follows from it.
function check_step (program, zeta)
  wn = 120;
  [t, y, m] = step_trial (program, zeta, wn, 10000, 8, 0);
  top = max (y) / (1 + m.overshoot.value);
  agree ("peak torque", m.peak_torque.value, max (y));
  within ("top level", top, 8 * dcgain (tf (wn ^ 2, [1, 2 * zeta * wn, wn ^ 2])), 8 / 256);
  t10 = crossing (t, y, 0.1 * top);
  t90 = crossing (t, y, 0.9 * top);
  agree ("dead time", m.dead_time.value, t10);
  agree ("transition duration", m.torque_transition_time.value, t90 - t10);
  agree ("mean slope", m.mean_torque_slope.value, 0.8 * top / (t90 - t10));
  check_peak_slope (m.peak_torque_slope, t, y);
  over = find (t > t90 & y >= top, 1);
  agree ("undershoot", m.undershoot.value, 1 - min (y(over:end)) / top, 1);
  out = find (abs (y - top) > 0.02 * top, 1, "last");
  edge = top * (1 + 0.02 * sign (y(out) - top));
  agree ("settling", m.settling_time.value, t(out) + (t(out + 1) - t(out)) * (edge - y(out)) / (y(out + 1) - y(out)));
  [wn_found, zeta_found] = damp (tf (wn ^ 2, [1, 2 * zeta * wn, wn ^ 2]));
  agree ("ringing frequency", m.ringing_frequency.value, wn_found(1) * sqrt (1 - zeta_found(1) ^ 2) / (2 * pi));
  agree ("ringing damping", m.ringing_damping.value, zeta_found(1));
  agree ("ringing amplitude", m.ringing_amplitude.value, rms (y(over:end) - top));
endfunction

% In noise what is read at samples or filtered still has one definition; what is fitted has to hold the truth of `damp`.
function check_noisy_step (program, zeta, noise)
  wn = 120;
  [t, y, m] = step_trial (program, zeta, wn, 10000, 8, noise);
  active = y(t >= 0);
  agree ("noisy peak torque", m.peak_torque.value, max (active));
  check_peak_slope (m.peak_torque_slope, t, y);
  span = m.mean_torque_slope.value * m.torque_transition_time.value / 0.8;
  over = t >= m.ringing_frequency.window_s(1) - 1e-9;
  agree ("noisy overshoot and undershoot", (m.overshoot.value + m.undershoot.value) * span, max (active) - min (y(over)), 8);
  [wn_found, zeta_found] = damp (tf (wn ^ 2, [1, 2 * zeta * wn, wn ^ 2]));
  within ("noisy ringing frequency", m.ringing_frequency.value, wn_found(1) * sqrt (1 - zeta_found(1) ^ 2) / (2 * pi),
          4 * m.ringing_frequency.uncertainty);
  within ("noisy ringing damping", m.ringing_damping.value, zeta_found(1), 4 * m.ringing_damping.uncertainty);
endfunction

% Crests of a lightly damped step are a period apart (findpeaks), which is the frequency that is fitted.
function check_crests (program)
  [t, y, m] = step_trial (program, 0.02, 120, 10000, 8, 0);
  [~, at] = findpeaks (y(t > 0), "MinPeakHeight", 8.01);
  at = at(1:10);
  within ("distance of crests", (at(end) - at(1)) / 9 / 10000, 1 / m.ringing_frequency.value, 2 / 10000 / 9);
endfunction

function [t, velocity, torque] = read_log (path)
  lines = strsplit (fileread (path), "\n");
  lines = lines(! cellfun (@(line) isempty (line) || line(1) == "#", lines));
  names = strsplit (lower (lines{1}), ",");
  values = cell2mat (cellfun (@(line) sscanf (line, "%f,")', lines(2:end)', "UniformOutput", false));
  column = @(word) values(:, find (! cellfun (@isempty, strfind (names, word)), 1));
  t = column ("time");
  velocity = column ("velocity");
  torque = column ("torque");
  if (! isempty (strfind (names{1}, "ms")))
    t /= 1000;
  endif
endfunction

function check_demo_trial (trial, folder)
  [t, velocity, torque] = read_log ([folder "/" trial.file]);
  m = trial.measures;
  if (trial.rows_left_out || trial.mirrored || numel (t) != trial.rows)
    return
  endif
  u = t - trial.onset_s;
  inside = u >= m.mean_velocity.window_s(1) - 1e-12 & u <= m.mean_velocity.window_s(2) + 1e-12;
  agree ("demo peak torque", m.peak_torque.value, max (torque(inside)));
  agree ("demo peak velocity", m.peak_velocity.value, max (velocity(inside)));
  check_peak_slope (m.peak_torque_slope, u, torque);
endfunction

% Student's t by the incomplete beta function, which is in Octave itself.
function check_summary (key, values, summary)
  n = numel (values);
  scale = max (abs (values));
  agree ([key " mean"], summary.mean, mean (values), scale);
  agree ([key " sd"], summary.sd, std (values), scale);
  agree ([key " standard uncertainty"], summary.standard_uncertainty, std (values) / sqrt (n), scale);
  x = betaincinv (0.05, (n - 1) / 2, 0.5);
  half = sqrt ((n - 1) * (1 - x) / x) * std (values) / sqrt (n);
  agree ([key " interval"], summary.ci95(1), mean (values) - half, scale);
  agree ([key " interval"], summary.ci95(2), mean (values) + half, scale);
endfunction

function check_demo (program, demo, name)
  configuration = as_list (measured (program, ["'" demo "/" name "'"]).configurations){1};
  trials = as_list (configuration.trials);
  trials = trials(cellfun (@(trial) trial.included && isfield (trial, "measures"), trials));
  cellfun (@(trial) check_demo_trial (trial, [demo "/" name]), trials);
  for [summary, key] = configuration.measures
    there = cellfun (@(trial) isfield (trial.measures, key) && isfield (trial.measures.(key), "value"), trials);
    if (isfield (summary, "sd") && sum (there) > 1)
      check_summary (key, cellfun (@(trial) trial.measures.(key).value, trials(there)), summary);
    endif
  endfor
endfunction

try
  pkg load control signal
catch
  disp ("octave-control or octave-signal is not installed");
  exit (77);
end_try_catch
global n_checked = 0;
randn ("state", 7);
program = make_absolute_filename (argv (){1});
demo = argv (){2};
for zeta = [0.1, 0.3, 0.6]
  check_step (program, zeta);
endfor
for noise = [0.001, 0.01, 0.03]
  check_noisy_step (program, 0.1, noise);
endfor
check_noisy_step (program, 0.3, 0.001);
check_noisy_step (program, 0.3, 0.005);
check_crests (program);
check_demo (program, demo, "Teasel slope 0.3");
check_demo (program, demo, "Teasel slope 2.0");
printf ("%d figures agree\n", n_checked);
exit (n_checked < 220);
