# gnuplot LIFT-effect.gp draws LIFT-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 352
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'LIFT-effect'
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
6 21.98 29.09 31.88 44.15 21.98 44.15 -4.46 -5.25 -5.47 -5.97 -5.97 -4.46 -17.13 -21.35 -22.88 -28.86 -28.86 -17.13 0.29 0.31 0.31 0.27 0.27 0.31 -1.18 -1.23 -1.00 -0.91 -1.23 -0.91
5 21.98 29.09 31.88 44.15 21.98 44.15 -4.46 -5.25 -5.47 -5.97 -5.97 -4.46 -17.13 -21.35 -22.88 -28.86 -28.86 -17.13 0.29 0.31 0.31 0.27 0.27 0.31 -1.18 -1.23 -1.00 -0.91 -1.23 -0.91
4 10.26 16.77 19.32 30.54 10.26 30.54 -2.11 -3.00 -3.25 -3.79 -3.79 -2.11 -8.59 -13.21 -14.87 -21.36 -21.36 -8.59 0.09 0.12 0.12 0.11 0.09 0.12 -1.12 -1.40 -1.03 -1.07 -1.40 -1.03
3 10.26 16.77 19.32 30.54 10.26 30.54 -2.11 -3.00 -3.25 -3.79 -3.79 -2.11 -8.59 -13.21 -14.87 -21.36 -21.36 -8.59 0.09 0.12 0.12 0.11 0.09 0.12 -1.12 -1.40 -1.03 -1.07 -1.40 -1.03
2 21.49 28.43 31.16 43.11 21.49 43.11 2.17 3.92 4.76 9.43 2.17 9.43 -16.43 -20.53 -22.01 -27.84 -27.84 -16.43 -0.55 -0.89 -1.05 -1.90 -1.90 -0.55 2.15 3.34 4.13 6.72 2.15 6.72
1 22.57 29.89 32.76 45.38 22.57 45.38 -0.60 0.09 0.47 2.87 -0.60 2.87 -16.28 -20.26 -21.69 -27.24 -27.24 -16.28 0.20 0.12 0.08 -0.23 -0.23 0.20 -0.24 0.29 0.95 2.21 -0.24 2.21
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
set xrange [-5.45:50.83]
set xtics 20.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 4:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.253; set rmargin at screen 0.420
set xlabel 'Running amps, %'
set xrange [-7.82:11.28]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 10:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.440; set rmargin at screen 0.607
set xlabel 'Slip, %'
set xrange [-32.33:3.46]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 16:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.627; set rmargin at screen 0.793
set xlabel 'Efficiency, points'
set xrange [-2.16:0.58]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 22:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.813; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-2.38:7.70]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 28:1 with points pt 13 ps 1.3*mark lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
