# gnuplot LIFT-effect.gp draws LIFT-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 352
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'LIFT-effect'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; then for each panel low, nominal, measured, high, least, greatest
$motors << EOD
6 7.32 15.13 31.02 41.27 7.32 41.27 -1.86 -3.42 -5.41 -5.93 -5.93 -1.86 -6.53 -12.53 -22.42 -27.56 -27.56 -6.53 0.14 0.24 0.31 0.29 0.14 0.31 -0.59 -0.99 -1.01 -1.01 -1.01 -0.59
5 7.10 14.92 30.80 41.05 7.10 41.05 -1.81 -3.38 -5.39 -5.92 -5.92 -1.81 -6.35 -12.38 -22.30 -27.46 -27.46 -6.35 0.13 0.23 0.31 0.29 0.13 0.31 -0.58 -0.98 -1.01 -1.02 -1.02 -0.58
4 -3.33 3.84 18.36 27.34 -3.33 27.34 0.89 -0.90 -3.16 -3.73 -3.73 0.89 3.22 -3.43 -14.25 -19.63 -19.63 3.22 -0.04 0.04 0.12 0.12 -0.04 0.12 0.57 -0.52 -1.02 -1.26 -1.26 0.57
3 -3.50 3.68 18.20 27.17 -3.50 27.17 0.94 -0.86 -3.14 -3.72 -3.72 0.94 3.38 -3.29 -14.15 -19.54 -19.54 3.38 -0.05 0.04 0.12 0.12 -0.05 0.12 0.60 -0.50 -1.02 -1.26 -1.26 0.60
2 7.47 15.17 30.70 42.48 7.47 42.48 0.21 1.03 4.61 9.14 0.21 9.14 -6.47 -12.25 -21.77 -27.56 -27.56 -6.47 -0.10 -0.30 -1.02 -1.85 -1.85 -0.10 0.49 1.29 4.03 6.55 0.49 6.55
1 6.44 14.70 31.02 43.29 6.44 43.29 -0.62 -0.88 0.23 2.39 -0.88 2.39 -5.41 -11.38 -20.83 -26.40 -26.40 -5.41 0.13 0.21 0.10 -0.17 -0.17 0.21 -0.39 -0.50 0.77 1.89 -0.50 1.89
EOD
set multiplot title 'Feeder LIFT: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' title 'measured case', \
  NaN with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 72.0/tall
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('LP-1' 6, 'LP-2' 5, 'LP-3' 4, 'LP-4' 3, 'PRIME' 2, 'HOIST' 1)
set yrange [0.3:6.7]
set lmargin at screen 0.067; set rmargin at screen 0.233
set xlabel 'Starting torque, %'
set xrange [-9.11:48.90]
set xtics 20.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 4:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.253; set rmargin at screen 0.420
set xlabel 'Running amps, %'
set xrange [-7.74:10.95]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 10:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.440; set rmargin at screen 0.607
set xlabel 'Slip, %'
set xrange [-31.27:7.10]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 16:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.627; set rmargin at screen 0.793
set xlabel 'Efficiency, points'
set xrange [-2.11:0.57]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 22:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.813; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-2.20:7.49]
set xtics 2.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 28:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
