# gnuplot FIRE-sag.gp draws FIRE-sag.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1100; tall = 758
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'FIRE-sag'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# s; volts before the starter, at the motor, board, service, %; amps; rev/min. span: s; least and most
$start1 << EOD
-0.0570 102.94 NaN 98.65 98.67 0.0 0.0
0.0000 102.94 NaN 98.65 98.67 0.0 0.0
0.0000 96.94 NaN 93.43 95.09 520.1 0.0
0.0040 96.90 NaN 93.40 95.06 519.0 15.0
0.0118 96.87 NaN 93.36 95.02 517.0 44.4
0.0242 96.85 NaN 93.35 95.00 514.0 92.0
0.0414 96.88 NaN 93.37 95.01 509.9 159.2
0.0617 96.93 NaN 93.41 95.04 504.9 238.7
0.0892 97.00 NaN 93.48 95.09 497.9 343.7
0.1159 97.08 NaN 93.55 95.14 490.9 442.6
0.1422 97.16 NaN 93.62 95.19 483.9 536.5
0.1692 97.24 NaN 93.69 95.25 476.5 629.5
0.1979 97.33 NaN 93.77 95.31 468.6 724.7
0.2296 97.44 NaN 93.86 95.37 459.6 826.0
0.2666 97.56 NaN 93.97 95.45 448.9 940.5
0.3163 97.73 NaN 94.13 95.57 433.8 1090.7
0.3381 97.81 NaN 94.20 95.62 426.7 1155.8
0.3637 97.91 NaN 94.29 95.69 417.8 1233.0
0.3845 98.00 NaN 94.37 95.76 409.6 1296.7
0.4018 98.08 NaN 94.44 95.82 401.9 1350.7
0.4164 98.16 NaN 94.52 95.89 394.2 1397.6
0.4290 98.25 NaN 94.60 95.96 386.2 1439.7
0.4402 98.34 NaN 94.69 96.03 377.5 1478.3
0.4504 98.45 NaN 94.79 96.12 367.6 1514.7
0.4606 98.60 NaN 94.93 96.24 354.6 1552.8
0.4700 98.80 NaN 95.11 96.39 338.3 1589.8
0.4792 99.07 NaN 95.36 96.59 316.0 1627.2
0.4897 99.54 NaN 95.78 96.90 279.2 1670.1
0.4945 99.82 NaN 96.03 97.08 257.5 1689.1
0.5001 100.21 NaN 96.36 97.32 227.7 1710.3
0.5056 100.61 NaN 96.71 97.54 196.8 1728.5
0.5113 101.01 NaN 97.05 97.76 165.6 1744.3
0.5167 101.34 NaN 97.33 97.94 139.1 1756.0
0.5218 101.58 NaN 97.53 98.05 119.0 1763.9
0.5273 101.76 NaN 97.68 98.13 103.4 1769.7
0.5336 101.89 NaN 97.79 98.19 92.0 1773.8
0.5415 101.98 NaN 97.85 98.23 84.4 1776.5
0.5522 102.03 NaN 97.90 98.25 80.1 1778.0
0.5689 102.05 NaN 97.91 98.26 78.3 1778.6
0.6019 102.05 NaN 97.92 98.26 77.9 1778.7
0.7009 102.06 NaN 97.92 98.26 78.0 1778.7
0.9827 102.06 NaN 97.92 98.27 78.0 1778.7
EOD
$span1 << EOD
0.0000 96.85 97.08 519.2 520.1 0.0 0.0
0.0040 96.81 97.04 518.0 519.0 8.5 24.5
0.0092 96.78 97.02 516.4 517.9 19.7 56.4
0.0118 96.78 97.00 515.7 517.6 25.2 72.1
0.0191 96.78 96.98 513.7 516.8 41.2 116.8
0.0242 96.79 96.97 512.4 516.2 52.5 147.9
0.0299 96.80 96.95 510.9 515.5 65.1 183.0
0.0335 96.81 96.95 510.0 515.2 73.2 204.5
0.0414 96.84 96.94 508.1 514.3 91.2 251.8
0.0496 96.86 96.94 506.1 513.4 109.7 300.7
0.0553 96.88 96.94 504.7 512.8 123.0 334.8
0.0617 96.90 96.94 503.2 512.1 138.0 372.0
0.0703 96.92 96.95 501.2 511.2 157.9 421.2
0.0753 96.93 96.96 500.0 510.6 169.9 450.4
0.0892 96.96 97.00 496.9 509.0 202.6 528.0
0.0928 96.96 97.01 496.1 508.6 211.2 548.2
0.0952 96.97 97.02 495.5 508.3 216.9 561.8
0.1153 96.99 97.08 491.1 505.8 264.1 670.9
0.1344 97.01 97.13 485.9 503.4 308.8 771.1
0.1422 97.02 97.16 483.9 502.4 326.5 810.9
0.1592 97.04 97.21 479.2 500.1 365.4 897.9
0.1692 97.05 97.24 476.5 498.7 388.1 947.4
0.1792 97.07 97.27 473.7 497.4 411.0 997.4
0.1867 97.08 97.30 471.7 496.2 427.4 1034.4
0.1979 97.09 97.33 468.6 494.6 452.2 1089.6
0.2007 97.10 97.34 467.8 494.2 458.3 1103.3
0.2148 97.12 97.39 463.8 492.1 489.4 1173.0
0.2221 97.13 97.41 461.7 491.0 505.4 1209.3
0.2278 97.14 97.43 459.2 490.0 517.4 1237.6
0.2386 97.16 97.46 453.4 488.3 540.4 1292.8
0.2477 97.17 97.50 447.2 486.8 559.8 1340.7
0.2556 97.19 97.56 440.4 485.5 576.7 1383.8
0.2627 97.20 97.64 432.7 484.3 591.8 1423.5
0.2666 97.20 97.70 427.2 483.7 600.0 1446.2
0.2698 97.21 97.75 422.6 483.1 606.7 1465.1
0.2763 97.22 97.89 410.5 482.0 620.0 1504.4
0.2822 97.23 98.07 395.6 480.9 632.2 1542.1
0.2878 97.24 98.30 376.2 479.8 643.8 1579.5
0.2935 97.25 98.65 348.7 478.8 655.6 1619.0
0.3009 97.27 99.31 298.5 477.5 670.7 1668.9
0.3046 97.28 99.74 265.6 476.8 678.4 1692.8
0.3081 97.28 100.18 231.1 476.1 685.7 1713.6
0.3115 97.29 100.60 197.9 475.5 692.7 1730.6
0.3150 97.30 100.99 167.1 474.9 699.8 1744.7
0.3184 97.30 101.30 141.0 474.2 707.0 1755.6
0.3219 97.31 101.54 120.6 473.6 714.0 1763.4
0.3257 97.32 101.71 104.7 472.8 721.7 1769.2
0.3301 97.33 101.84 93.1 471.8 730.6 1773.4
0.3356 97.34 101.92 85.3 470.6 741.8 1776.2
0.3381 97.35 101.94 83.8 470.1 746.8 1776.7
0.3431 97.36 101.97 80.8 469.0 757.0 1777.8
0.3547 97.38 101.99 78.8 466.5 780.3 1778.5
0.3637 97.41 102.00 78.6 464.6 798.6 1778.5
0.3768 97.44 102.00 78.4 461.8 825.1 1778.6
0.3845 97.45 102.00 78.4 460.1 840.7 1778.6
0.3915 97.47 102.00 78.4 458.6 854.9 1778.6
0.4018 97.50 102.00 78.4 456.0 875.7 1778.6
0.4164 97.54 102.00 78.4 452.3 905.2 1778.6
0.4290 97.57 102.00 78.4 449.1 930.8 1778.6
0.4351 97.59 102.00 78.4 447.6 943.2 1778.6
0.4402 97.61 102.00 78.4 446.1 953.7 1778.6
0.4432 97.62 102.00 78.4 445.2 959.8 1778.6
0.4504 97.64 102.00 78.4 443.1 974.5 1778.6
0.4606 97.67 102.00 78.4 440.2 995.5 1778.6
0.4700 97.70 102.00 78.4 437.4 1014.9 1778.6
0.4792 97.74 102.00 78.4 434.4 1034.2 1778.6
0.4897 97.78 102.00 78.4 431.0 1056.2 1778.6
0.4945 97.80 102.00 78.4 429.5 1066.1 1778.6
0.5001 97.82 102.00 78.4 427.6 1078.0 1778.6
0.5056 97.84 102.00 78.4 425.7 1089.6 1778.6
0.5113 97.86 102.00 78.4 423.5 1101.9 1778.6
0.5167 97.89 102.00 78.4 421.5 1113.6 1778.6
0.5218 97.91 102.00 78.4 419.6 1124.5 1778.6
0.5273 97.93 102.00 78.4 417.6 1136.3 1778.6
0.5336 97.96 102.00 78.4 415.3 1149.9 1778.6
0.5415 98.00 102.00 78.4 412.0 1167.2 1778.6
0.5522 98.05 102.03 78.4 407.5 1190.9 1778.6
0.5629 98.10 102.04 78.4 403.0 1214.4 1778.6
0.5689 98.13 102.05 78.3 400.1 1228.0 1778.6
0.5915 98.26 102.05 78.0 389.5 1278.8 1778.7
0.6019 98.32 102.05 77.9 384.0 1302.8 1778.7
0.6213 98.44 102.05 77.9 373.7 1347.1 1778.7
0.6425 98.59 102.05 77.9 360.9 1396.6 1778.7
0.6553 98.69 102.05 78.0 353.2 1426.4 1778.7
0.7009 99.08 102.06 78.0 319.6 1532.3 1778.7
0.7053 99.12 102.06 78.0 316.4 1542.6 1778.7
0.7217 99.30 102.06 78.0 301.3 1580.4 1778.7
0.7450 99.63 102.06 78.0 274.5 1633.7 1778.7
0.7546 99.80 102.06 78.0 260.6 1655.2 1778.7
0.7682 100.10 102.06 78.0 236.4 1685.0 1778.7
0.7795 100.42 102.06 78.0 211.7 1708.5 1778.7
0.7904 100.78 102.06 78.0 184.5 1728.8 1778.7
0.8006 101.13 102.06 78.0 157.8 1745.3 1778.7
0.8088 101.41 102.06 78.0 136.0 1756.2 1778.7
0.8174 101.67 102.06 78.0 116.0 1764.7 1778.7
0.8261 101.85 102.06 78.0 101.1 1770.5 1778.7
0.8358 101.98 102.06 78.0 90.2 1774.4 1778.7
0.8479 102.00 102.06 78.0 83.0 1777.0 1778.7
0.8643 102.00 102.11 78.0 79.0 1778.3 1778.7
0.8904 102.00 102.13 77.4 78.4 1778.6 1778.9
0.9443 102.00 102.14 77.2 78.4 1778.6 1779.0
0.9500 102.00 102.14 77.2 78.4 1778.6 1779.0
EOD
set multiplot title 'Feeder FIRE: each start alone, nominal case' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
set label 20 'JP-1' at screen 0.03, screen 16.0/tall left textcolor rgb '#555555'
set label 21 'Dip under 1 % and up to speed within 1 s: 1' at screen 0.03, screen 34.0/tall left textcolor rgb '#555555'
plot NaN with lines lw 2 lc rgb '#1a1a1a' title 'before starter, % plate', \
  NaN with lines lw 2 lc rgb '#0f766e' title 'board, % nominal', \
  NaN with lines lw 2 lc rgb '#b45309' title 'service, % nominal', \
  NaN with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' title 'easy to hard', \
  NaN with lines lw 1 dt 2 lc rgb '#b91c1c' title 'limit', \
  NaN with lines lw 1 dt 3 lc rgb '#555555' title 'closes, changes over'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
unset arrow; unset label; unset title
set xrange [-0.0570:0.9500]; set xtics autofreq nomirror out; set format x ''
set xlabel ''; set ylabel 'Volts, %'
set yrange [66:107]; set ytics 10 nomirror out
set tmargin at screen 1 - (162.0 + 0*600.0)/tall; set bmargin at screen 1 - (392.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
set arrow 11 from graph 0, first 80.0 to graph 1, first 80.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 11 'before the starter 80' at graph 0.995, first 80.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set arrow 12 from graph 0, first 70.0 to graph 1, first 70.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 12 'contactors 70' at graph 0.995, first 70.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set arrow 13 from graph 0, first 85.0 to graph 1, first 85.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 13 'board of a fire pump 85' at graph 0.995, first 85.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set label 10 'dip 5.4 %, peak 520 A, to speed 0.52 s (0.32 to 0.81)' at graph 0.5, graph 1 center offset 0,0.8 textcolor rgb '#334155'
set title 'FP-1: 75 hp, 460 V, across' offset 0,0.9
plot $span1 using 1:2:3 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:5 with lines lw 2 lc rgb '#b45309' notitle, \
  $start1 using 1:4 with lines lw 2 lc rgb '#0f766e' notitle, \
  $start1 using 1:2 with lines lw 2 lc rgb '#1a1a1a' notitle
unset arrow; unset label; unset title
set xrange [-0.0570:0.9500]; set xtics autofreq nomirror out; set format x ''
set xlabel ''; set ylabel 'Line, A'
set yrange [0:551.31]; set ytics 200.00 nomirror out
set tmargin at screen 1 - (408.0 + 0*600.0)/tall; set bmargin at screen 1 - (513.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
plot $span1 using 1:4:5 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:6 with lines lw 2 lc rgb '#1a1a1a' notitle
unset arrow; unset label; unset title
set xrange [-0.0570:0.9500]; set xtics autofreq nomirror out; set format x '%g'
set xlabel 'Time from closing, s'; set ylabel 'Speed, rev/min'
set yrange [0:1908.00]; set ytics 500.00 nomirror out
set tmargin at screen 1 - (529.0 + 0*600.0)/tall; set bmargin at screen 1 - (634.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
plot $span1 using 1:6:7 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:7 with lines lw 2 lc rgb '#1a1a1a' notitle
unset multiplot
unset output
