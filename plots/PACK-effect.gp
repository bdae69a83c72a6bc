# gnuplot PACK-effect.gp draws PACK-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 472
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'PACK-effect'
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
10 9.29 15.89 NaN 29.01 9.29 29.01 3.77 7.01 NaN 14.83 3.77 14.83 -7.73 -12.42 NaN -20.21 -20.21 -7.73 -0.82 -1.50 NaN -3.06 -3.06 -0.82 3.22 5.89 NaN 12.27 3.22 12.27
9 9.66 16.53 NaN 30.22 9.66 30.22 3.03 5.81 NaN 12.92 3.03 12.92 -7.94 -12.78 NaN -20.88 -20.88 -7.94 -0.56 -1.04 NaN -2.21 -2.21 -0.56 2.48 4.61 NaN 9.85 2.48 9.85
8 10.10 17.29 NaN 31.66 10.10 31.66 1.31 2.82 NaN 7.24 1.31 7.24 -7.94 -12.76 NaN -20.79 -20.79 -7.94 -0.21 -0.41 NaN -0.96 -0.96 -0.21 1.33 2.63 NaN 6.05 1.33 6.05
7 10.26 17.57 NaN 32.19 10.26 32.19 -0.72 -0.67 NaN 0.78 -0.72 0.78 -8.26 -13.25 NaN -21.54 -21.54 -8.26 -0.03 -0.10 NaN -0.34 -0.34 -0.03 0.29 0.84 NaN 2.72 0.29 2.72
6 9.98 17.10 NaN 31.29 9.98 31.29 0.22 0.98 NaN 3.98 0.22 3.98 -8.29 -13.30 NaN -21.64 -21.64 -8.29 -0.14 -0.32 NaN -0.83 -0.83 -0.14 0.89 1.91 NaN 4.90 0.89 4.90
5 10.41 17.84 NaN 32.70 10.41 32.70 -1.31 -1.70 NaN -1.17 -1.70 -1.17 -8.39 -13.45 NaN -21.82 -21.82 -8.39 0.04 0.02 NaN -0.11 -0.11 0.04 -0.25 -0.05 NaN 1.17 -0.25 1.17
4 9.99 17.10 NaN 31.31 9.99 31.31 -2.20 -3.30 NaN -4.39 -4.39 -2.20 -8.32 -13.35 NaN -21.68 -21.68 -8.32 0.12 0.17 NaN 0.19 0.12 0.19 -1.21 -1.64 NaN -1.62 -1.64 -1.21
3 10.14 17.37 NaN 31.82 10.14 31.82 0.96 2.50 NaN 7.67 0.96 7.67 -7.59 -12.14 NaN -19.61 -19.61 -7.59 -0.08 -0.21 NaN -0.64 -0.64 -0.08 0.99 2.32 NaN 6.56 0.99 6.56
2 -4.25 2.24 NaN 15.22 -4.25 15.22 0.57 0.94 NaN 2.91 0.57 2.91 -16.51 -21.03 NaN -28.56 -28.56 -16.51 0.19 0.06 NaN -0.30 -0.30 0.19 9.93 10.87 NaN 13.43 9.93 13.43
1 -5.57 0.81 NaN 13.59 -5.57 13.59 0.48 0.42 NaN 1.50 0.42 1.50 -16.54 -21.09 NaN -28.67 -28.67 -16.54 0.15 0.06 NaN -0.21 -0.21 0.15 9.80 10.56 NaN 12.73 9.80 12.73
EOD
set multiplot title 'Feeder PACK: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 72.0/tall
set grid lc rgb '#d5d5d5'
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('CV-1' 10, 'CV-2' 9, 'CV-3' 8, 'CV-4' 7, 'CV-5' 6, 'CV-6' 5, 'FAN-1' 4, 'FAN-2' 3, 'SORT-1' 2, 'SORT-2' 1)
set yrange [0.3:10.7]
set lmargin at screen 0.150; set rmargin at screen 0.300
set xlabel 'Starting torque, %'
set xrange [-10.16:37.29]
set xtics 10.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.320; set rmargin at screen 0.470
set xlabel 'Running amps, %'
set xrange [-6.70:17.14]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.490; set rmargin at screen 0.640
set xlabel 'Slip, %'
set xrange [-32.11:3.44]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.660; set rmargin at screen 0.810
set xlabel 'Efficiency, points'
set xrange [-3.46:0.58]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.830; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-3.45:15.24]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
