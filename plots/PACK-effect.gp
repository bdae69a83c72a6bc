# gnuplot PACK-effect.gp draws PACK-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 460
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'PACK-effect'
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,14' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; then for each panel low, nominal, measured, high, least, greatest
$motors << EOD
10 9.29 15.88 NaN 29.01 9.29 29.01 3.77 7.00 NaN 14.79 3.77 14.79 -7.72 -12.41 NaN -20.19 -20.19 -7.72 -0.82 -1.49 NaN -3.06 -3.06 -0.82 2.44 4.75 NaN 10.87 2.44 10.87
9 9.65 16.52 NaN 30.21 9.65 30.21 3.03 5.81 NaN 12.92 3.03 12.92 -7.95 -12.79 NaN -20.90 -20.90 -7.95 -0.56 -1.04 NaN -2.21 -2.21 -0.56 1.40 2.92 NaN 7.39 1.40 7.39
8 10.09 17.28 NaN 31.64 10.09 31.64 1.30 2.80 NaN 7.18 1.30 7.18 -7.92 -12.73 NaN -20.72 -20.72 -7.92 -0.21 -0.41 NaN -0.95 -0.95 -0.21 -0.15 0.25 NaN 2.28 -0.15 2.28
7 10.27 17.60 NaN 32.23 10.27 32.23 -0.75 -0.72 NaN 0.66 -0.75 0.66 -8.22 -13.18 NaN -21.41 -21.41 -8.22 -0.03 -0.09 NaN -0.33 -0.33 -0.03 -1.64 -2.30 NaN -2.49 -2.49 -1.64
6 9.98 17.09 NaN 31.27 9.98 31.27 0.21 0.95 NaN 3.87 0.21 3.87 -8.24 -13.22 NaN -21.49 -21.49 -8.24 -0.14 -0.31 NaN -0.82 -0.82 -0.14 -0.84 -0.87 NaN 0.40 -0.87 0.40
5 10.43 17.87 NaN 32.75 10.43 32.75 -1.32 -1.71 NaN -1.21 -1.71 -1.21 -8.37 -13.41 NaN -21.75 -21.75 -8.37 0.04 0.02 NaN -0.11 -0.11 0.04 -2.37 -3.51 NaN -4.59 -4.59 -2.37
4 9.99 17.10 NaN 31.31 9.99 31.31 -2.20 -3.30 NaN -4.39 -4.39 -2.20 -8.33 -13.35 NaN -21.68 -21.68 -8.33 0.12 0.17 NaN 0.19 0.12 0.19 -3.68 -5.68 NaN -8.39 -8.39 -3.68
3 10.14 17.37 NaN 31.82 10.14 31.82 0.97 2.51 NaN 7.68 0.97 7.68 -7.59 -12.14 NaN -19.61 -19.61 -7.59 -0.08 -0.21 NaN -0.64 -0.64 -0.08 -0.50 0.04 NaN 3.36 -0.50 3.36
2 -4.25 2.24 NaN 15.21 -4.25 15.21 0.57 0.94 NaN 2.91 0.57 2.91 -16.51 -21.03 NaN -28.56 -28.56 -16.51 0.19 0.06 NaN -0.30 -0.30 0.19 0.46 0.02 NaN 0.17 0.02 0.46
1 -5.61 0.76 NaN 13.51 -5.61 13.51 0.48 0.42 NaN 1.51 0.42 1.51 -16.54 -21.09 NaN -28.70 -28.70 -16.54 0.15 0.06 NaN -0.21 -0.21 0.15 0.38 -0.30 NaN -0.68 -0.68 0.38
EOD
set multiplot title 'Feeder PACK: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 60.0/tall
set grid lc rgb '#d5d5d5'
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('CV-1' 10, 'CV-2' 9, 'CV-3' 8, 'CV-4' 7, 'CV-5' 6, 'CV-6' 5, 'FAN-1' 4, 'FAN-2' 3, 'SORT-1' 2, 'SORT-2' 1)
set yrange [0.3:10.7]
set lmargin at screen 0.150; set rmargin at screen 0.300
set xlabel 'Starting torque, %'
set xrange [-10.22:37.35]
set xtics 10.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.320; set rmargin at screen 0.470
set xlabel 'Running amps, %'
set xrange [-6.70:17.10]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.490; set rmargin at screen 0.640
set xlabel 'Slip, %'
set xrange [-32.14:3.44]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.660; set rmargin at screen 0.810
set xlabel 'Efficiency, points'
set xrange [-3.45:0.58]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.830; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-10.70:13.18]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
